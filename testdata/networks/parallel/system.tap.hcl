# A scenario of our own; every value is invented. expected.json comes from the
# independent solution in ../solve.py, not from the product.
system "parallel" {
  title   = "Two analyzer legs and a bypass between two nodes"
  thermal = "isenthalpic"
}
site {
  atmosphere      = "985 mbara"
  reference_state = "15 degC, 101.325 kPaa"
}
fluid "sweet gas" {
  mole_percent = { methane = "rest", ethane = 6, nitrogen = 3.5, carbon_dioxide = 1.5 }
}
source "GRID" {
  fluid       = "sweet gas"
  pressure    = "60 barg"
  temperature = "35 degC"
}
filter "F-1" { cv = 0.08 }
reducer "PCV-1" {
  set             = "5 barg"
  reference_inlet = "60 barg"
  cv              = 0.02
  droop           = "0.4 bar"
  supply_effect   = "1.5 %"
}
valve "NV-1" { cv = 0.012 }
analyzer "AE-1" { cv = 0.02 }
valve "NV-2" {
  cv      = 0.02
  opening = "70 %"
}
analyzer "AE-2" { cv = 0.015 }
valve "NV-3" { cv = 0.03 }
check_valve "CHK-1" {
  cv        = 0.15
  cracks_at = "0.02 bar"
}
valve "NV-4" { cv = 0.055 }
vent "FLARE" { pressure = "0.2 barg" }
line "leg-1" {
  path = <<-PATH
    GRID -> F-1 -> PCV-1
    -> (P1) -> NV-1 -> (P3) -> AE-1
    -> (P2) -> CHK-1 -> NV-4 -> FLARE
  PATH
}
line "leg-2" { path = "(P1) -> NV-2 -> AE-2 -> (P2)" }
line "bypass" { path = "(P1) -> NV-3 -> (P2)" }
case "grid low" {
  source "GRID" {
    pressure    = "25 barg"
    temperature = "10 degC"
  }
}
case "bypass shut" {
  valve "NV-3" { state = "shut" }
}
case "leg 2 throttled" {
  valve "NV-2" { opening = "25 %" }
}
case "leg 2 shut" {
  valve "NV-2" { state = "shut" }
}
case "flare high" {
  vent "FLARE" { pressure = "2.5 barg" }
}
case "low grid, high flare" { after = ["grid low", "flare high"] }
