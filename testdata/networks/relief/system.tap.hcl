# A scenario of our own; every value is invented. expected.json comes from the
# independent solution in ../solve.py, not from the product.
# The relief discharges through a tail pipe with a resistance of its own, so that
# its back pressure moves with its flow and acts on its opening.
system "relief" {
  title   = "A reducer failed wide open against a proportional relief"
  thermal = "isenthalpic"
}
site {
  elevation       = "0 m"
  reference_state = "15 degC, 101.325 kPaa"
}
fluid "blend" {
  mole_percent = { methane = "rest", hydrogen = 15, nitrogen = 5 }
}
source "HDR" {
  fluid       = "blend"
  pressure    = "60 barg"
  temperature = "25 degC"
}
filter "F-1" { cv = 0.2 }
reducer "PCV-1" {
  set             = "5 barg"
  reference_inlet = "60 barg"
  cv              = 0.08
  droop           = "0.3 bar"
  supply_effect   = "1 %"
  lock_up         = "0.1 bar"
}
relief "PSV-1" {
  set          = "6 barg"
  action       = "proportional"
  overpressure = "10 %"
  blowdown     = "12 %"
  orifice      = "28 mm2"
  kd           = 0.8
  bonnet       = "discharge"
}
valve "V-9" { cv = 2.2 }
valve "NV-1" { cv = 0.05 }
analyzer "AE-1" { cv = 0.08 }
vent "SAFE" { pressure = "0.1 barg" }
vent "ATM" { pressure = "0 barg" }
line "main" { path = "HDR -> F-1 -> PCV-1 -> (P1) -> NV-1 -> (P2) -> AE-1 -> ATM" }
line "relief" { path = "(P1) -> PSV-1 -> (P9) -> V-9 -> SAFE" }
case "wide open" {
  kind = "upset"
  reducer "PCV-1" { fault = "wide open" }
}
case "wide open, header low" {
  kind  = "upset"
  after = ["wide open"]
  source "HDR" { pressure = "45 barg" }
}
case "wide open, safe header high" {
  kind  = "upset"
  after = ["wide open"]
  vent "SAFE" { pressure = "9 barg" }
}
case "wide open, low setting" {
  kind  = "upset"
  after = ["wide open"]
  source "HDR" { pressure = "20 barg" }
  relief "PSV-1" { set = "1.6 barg" }
}
