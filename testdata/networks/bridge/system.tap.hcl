# A scenario of our own; every value is invented. expected.json comes from the
# independent solution in ../solve.py, not from the product.
# The feeds differ in temperature, so that the cross valve's direction decides
# which of the two sides is a mixture.
system "bridge" {
  title   = "Five-valve bridge: the cross valve passes either way"
  thermal = "isenthalpic"
}
site {
  elevation       = "0 m"
  reference_state = "0 degC, 101.325 kPaa"
}
fluid "nitrogen" {
  mole_percent = { nitrogen = 100 }
}
source "N-A" {
  fluid       = "nitrogen"
  pressure    = "60 barg"
  temperature = "15 degC"
}
source "N-B" {
  fluid       = "nitrogen"
  pressure    = "45 barg"
  temperature = "55 degC"
}
valve "V-1" { cv = 0.02 }
valve "V-2" { cv = 0.03 }
valve "V-3" { cv = 0.05 }
valve "V-4" { cv = 0.02 }
valve "V-5" {
  cv         = 0.04
  either_way = true
}
check_valve "CHK-1" {
  cv        = 0.1
  cracks_at = "0.1 bar"
}
check_valve "CHK-2" {
  cv        = 0.12
  cracks_at = "0.1 bar"
}
analyzer "AE-1" { cv = 0.12 }
vent "RETURN" { pressure = "7 barg" }
line "side-a" { path = "N-A -> CHK-1 -> V-1 -> (PA) -> V-3 -> (PC)" }
line "side-b" { path = "N-B -> CHK-2 -> V-2 -> (PB) -> V-4 -> (PC)" }
line "cross" { path = "(PA) -> V-5 -> (PB)" }
line "return" { path = "(PC) -> AE-1 -> RETURN" }
case "the other way" {
  valve "V-3" { cv = 0.015 }
  valve "V-4" { cv = 0.08 }
}
case "feed B low" {
  after = ["the other way"]
  source "N-B" { pressure = "32 barg" }
}
case "feed A hot" {
  source "N-A" { temperature = "90 degC" }
}
case "return high" {
  vent "RETURN" { pressure = "14 barg" }
}
