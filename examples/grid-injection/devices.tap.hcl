# Parts and their settings, in the order the gas meets them; invented values.

# At the tap.
valve "V-10" {
  cv      = 0.8
  seat    = "6 mm"
  rated   = "100 barg"
  service = "isolation at the tap"
}
filter "F-11" {
  cv      = 0.3
  volume  = "40 mL"
  rated   = "100 barg"
  service = "keeps dirt off the reducer's seat"
}
# A coil on a heated block: the reducer cools the gas by about 23 K.
tube "T-10" {
  size      = "6 mm x 1 mm"
  length    = "3 m"
  bends     = 8
  traced_to = "45 degC"
  rated     = "100 barg"
}
reducer "PCV-11" {
  set             = "3.5 barg"
  reference_inlet = "52 barg"
  cv              = 0.02
  droop           = "0.25 bar"
  supply_effect   = "1.2 %"
  lock_up         = "0.15 bar"
  range           = "0 .. 7 barg"
  rated_inlet     = "250 barg"
  rated_outlet    = "10 barg"
  allow {
    outlet_pressure = "3.2 .. 4 barg"
  }
}
relief "PSV-11" {
  set          = "6 barg"
  action       = "proportional"
  overpressure = "10 %"
  blowdown     = "12 %"
  orifice      = "12 mm2"
  kd           = 0.8
  rated_inlet  = "16 barg"
  service      = "the reducer fails open"
}
tube "T-11" {
  size      = "6 mm x 1 mm"
  length    = "28 m"
  bends     = 6
  rated     = "40 barg"
  traced_to = "25 degC"
}
valve "V-20" {
  cv      = 0.2
  state   = "shut"
  rated   = "100 barg"
  service = "purge; shut unless V-10 is"
}
check_valve "CK-20" {
  cv        = 0.2
  cracks_at = "0.1 bar"
  rated     = "100 barg"
  service   = "keeps the grid's gas out of the nitrogen"
}

# In the house, which is heated. A site has one ambient, so what stands indoors
# is kept from exchanging heat with it (ua = "0 W/K") and the two tubes to the
# cells are held at the room's 22 degC.
valve "V-12" {
  cv      = 0.5
  seat    = "5 mm"
  ua      = "0 W/K"
  rated   = "40 barg"
  service = "isolation at the house"
}
filter "F-12" {
  cv     = 0.15
  volume = "60 mL"
  ua     = "0 W/K"
  rated  = "10 barg"
}
valve "NV-11" {
  cv      = 0.004
  opening = "26 %"
  seat    = "0.8 mm"
  ua      = "0 W/K"
  rated   = "40 barg"
  service = "flow of the chromatograph"
}
valve "NV-12" {
  cv      = 0.004
  opening = "26 %"
  seat    = "0.8 mm"
  ua      = "0 W/K"
  rated   = "40 barg"
  service = "flow of the moisture analyzer"
}
valve "NV-13" {
  cv      = 0.03
  opening = "30 %"
  seat    = "2 mm"
  ua      = "0 W/K"
  rated   = "40 barg"
  service = "flow of the fast loop"
}
meter "FI-11" {
  drop  = "8 mbar"
  flow  = "1 slpm"
  scale = "0 .. 3 slpm"
  ua    = "0 W/K"
  rated = "10 barg"
  calibrated_for {
    fluid       = "biomethane"
    pressure    = "1.25 barg"
    temperature = "15 degC"
  }
}
meter "FI-12" {
  drop  = "8 mbar"
  flow  = "1 slpm"
  scale = "0 .. 3 slpm"
  ua    = "0 W/K"
  rated = "10 barg"
  calibrated_for {
    fluid       = "biomethane"
    pressure    = "1.25 barg"
    temperature = "15 degC"
  }
}
meter "FI-13" {
  drop  = "12 mbar"
  flow  = "15 slpm"
  scale = "0 .. 25 slpm"
  ua    = "0 W/K"
  rated = "10 barg"
  calibrated_for {
    fluid       = "biomethane"
    pressure    = "1.25 barg"
    temperature = "15 degC"
  }
}
tube "T-21" {
  size      = "3 mm x 0.5 mm"
  length    = "1.5 m"
  bends     = 3
  traced_to = "22 degC"
}
tube "T-22" {
  size      = "3 mm x 0.5 mm"
  length    = "2 m"
  bends     = 3
  traced_to = "22 degC"
}
analyzer "AE-11" {
  cv      = 0.012
  volume  = "5 mL"
  cycle   = "4 min"
  ua      = "0 W/K"
  rated   = "7 barg"
  service = "gas chromatograph: composition and heating value"
}
analyzer "AE-12" {
  cv      = 0.02
  volume  = "30 mL"
  ua      = "0 W/K"
  rated   = "7 barg"
  service = "water and hydrogen sulphide"
}
valve "V-19" {
  cv      = 0.1
  state   = "shut"
  rated   = "40 barg"
  service = "spare take-off"
}

# The common return.
holder "BPH-11" {
  set           = "1.2 barg"
  cv            = 0.05
  accumulation  = "0.1 bar"
  outlet_effect = "2 %"
  range         = "0.3 .. 2 barg"
  ua            = "0 W/K"
  rated_inlet   = "7 barg"
  rated_outlet  = "7 barg"
  allow {
    lift = "10 .. 80 %"
  }
}
check_valve "CK-11" {
  cv        = 0.4
  cracks_at = "0.03 bar"
  ua        = "0 W/K"
  rated     = "10 barg"
  service   = "keeps the header's gas out when the house is down"
}
