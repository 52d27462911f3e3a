# A scenario of our own with invented values: the analyzer house of a
# biomethane injection point. It uses as much of the language as it can.
system "grid-injection" {
  title   = "Biomethane injection point, analyzer house"
  thermal = "isenthalpic"
}

site {
  elevation       = "410 m"
  ambient         = "5 degC" # default 20 degC
  reference_state = "15 degC, 101.325 kPaa"
  shown_in        = { pressure = "barg", gas_flow = "slpm", liquid_flow = "L/h", temperature = "degC" }
}

given {
  flare_high = "0.45 barg"
  trim       = 0.06
}

fluid "biomethane" {
  mole_percent = { methane = "rest", carbon_dioxide = 1.9, nitrogen = 0.7, oxygen = 0.2, hydrogen = "1000 ppm" }
}

source "GRID" {
  fluid       = "biomethane"
  pressure    = "52 barg"
  temperature = "12 degC"
}

valve "V-10" {
  cv      = 0.8
  service = "isolation"
  data    = { order = "A-1042", spares = 2, coded = true }
}
filter "F-11" { cv = 0.4 }

reducer "PCV-11" {
  set             = "3.5 barg +/- 0.05 bar"
  reference_inlet = "52 barg"
  cv              = given.trim
  droop           = "0.25 bar"
  supply_effect   = "1.2 %"
  lock_up         = "0.1 bar"
  range           = "0 .. 7 barg"
  rated_inlet     = "250 barg"
  rated_outlet    = "10 barg"
  allow {
    lift = "10 .. 90 %"
  }
}

valve "NV-11" {
  cv      = "0.02 +/- 10 %"
  opening = "40 %"
  seat    = "1/16 in"
}
meter "FI-11" {
  drop  = "15 mbar"
  flow  = "60 NL/h"
  scale = "10 .. 100 NL/h"
  calibrated_for {
    fluid       = "biomethane"
    pressure    = "1.2 barg"
    temperature = "20 degC"
  }
}
analyzer "AE-11" { cv = 0.05 }

holder "BPH-11" {
  cv           = 0.10
  accumulation = "0.08 bar"
  loading {
    dome = "(P4)"
    bias = "0.8 bar"
  }
}

relief "PSV-11" {
  set          = "6 barg"
  action       = "proportional"
  overpressure = "10 %"
  blowdown     = "12 %"
  orifice      = "12 mm2"
  kd           = 0.8
  protects     = ["NV-11"]
}

valve "NV-12" { cv = 0.03 }
meter "FI-12" { cv = 0.2 }
valve "V-9" {
  cv    = 0.1
  spare = true
}

gauge "P1" {
  range = "0 .. 10 barg"
  trips = ">= 5 barg"
}

vent "FLARE" { pressure = "0.05 barg" }
vent "SAFE" { pressure = "0 barg" }

line "sample" {
  tube = "1/4 in x 0.035 in"
  path = <<-PATH
    GRID -> V-10 -> F-11 -> PCV-11
    -> (P1) -> tube(6 mm x 1 mm, 32 m, 4 bends)
    -> (P2) -> NV-11 -> FI-11 -> tube(3 m) -> AE-11
    -> (P3) -> BPH-11 -> FLARE
  PATH
}
line "bypass" { path = ["(P2) -> NV-12 -> FI-12 -> (P3)", "F-11.drain -> tube T-9(6 mm x 1 mm, 0.5 m, rise -1 m) -> (P4)", "(P4) -> cap"] }
line "relief" { path = "(P1) -> PSV-11 -> SAFE" }

band "GC cell" {
  at         = "AE-11.in"
  pressure   = "0.9 .. 1.4 barg"
  dew_margin = ">= 10 K"
  lag        = "<= 60 s"
  from       = "GRID"
  share      = { GRID = ">= 99.9 %" }
  except     = ["winter"]
}
band "GC flow" {
  at    = ["AE-11", "FI-11"]
  flow  = "0.8 .. 1.2 slpm"
  level = "caution"
}
