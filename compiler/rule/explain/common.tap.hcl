system "bench" {}
site { reference_state = "15 degC, 101.325 kPaa" }
fluid "n2" {
  mole_percent = { nitrogen = 100 }
}
source "S" {
  fluid       = "n2"
  pressure    = "6 barg"
  temperature = "20 degC"
}
valve "V-1" { cv = 0.04 }
valve "V-2" { cv = 0.02 }
vent "ATM" { pressure = "0 barg" }
line "main" { path = "S -> V-1 -> (P1) -> V-2 -> ATM" }
