# A scenario of our own; every value is invented. expected.json comes from the
# independent solution in ../solve.py, not from the product.
# Two different gases meet at (PA) and (PB); the cross valve's direction decides
# which of the two is a blend, (PC) is one always.
system "blend" {
  title   = "Natural gas and hydrogen meeting in a bridge"
  thermal = "isenthalpic"
}
site {
  elevation       = "0 m"
  reference_state = "0 degC, 101.325 kPaa"
}
fluid "natural gas" {
  mole_percent = { methane = "rest", ethane = 5, nitrogen = 2, carbon_dioxide = 1 }
}
fluid "hydrogen" {
  mole_percent = { hydrogen = "rest", nitrogen = 1 }
}
source "GAS" {
  fluid       = "natural gas"
  pressure    = "55 barg"
  temperature = "30 degC"
}
source "HYD" {
  fluid       = "hydrogen"
  pressure    = "50 barg"
  temperature = "15 degC"
}
check_valve "CHK-1" {
  cv        = 0.1
  cracks_at = "0.1 bar"
}
check_valve "CHK-2" {
  cv        = 0.1
  cracks_at = "0.1 bar"
}
valve "V-1" { cv = 0.03 }
valve "V-2" { cv = 0.01 }
valve "V-3" { cv = 0.02 }
valve "V-4" { cv = 0.03 }
valve "V-5" {
  cv         = 0.02
  either_way = true
}
holder "BPH-1" {
  set           = "8 barg"
  cv            = 0.6
  accumulation  = "0.3 bar"
  outlet_effect = "5 %"
}
vent "FLARE" { pressure = "0.4 barg" }
line "side-a" { path = "GAS -> CHK-1 -> V-1 -> (PA) -> V-3 -> (PC)" }
line "side-b" { path = "HYD -> CHK-2 -> V-2 -> (PB) -> V-4 -> (PC)" }
line "cross" { path = "(PA) -> V-5 -> (PB)" }
line "outlet" { path = "(PC) -> BPH-1 -> FLARE" }
case "more hydrogen" {
  valve "V-1" { cv = 0.01 }
  valve "V-2" { cv = 0.03 }
}
case "flare high" {
  vent "FLARE" { pressure = "3 barg" }
}
