# Parts and their settings, in the order the gas meets them; invented values. No
# copper or brass is to be among them: ammonia eats it (common practice).

# At the tap; filter and reducer stand in a heated box.
valve "V-31" {
  cv      = 0.8
  seat    = "6 mm"
  rated   = "40 barg"
  service = "isolation at the tap"
}
filter "F-31" {
  cv      = 0.3
  volume  = "20 mL"
  ua      = "0 W/K"
  rated   = "40 barg"
  service = "keeps dirt off the reducer's seat"
}
tube "T-31" {
  size      = "6 mm x 1 mm"
  length    = "1 m"
  bends     = 3
  traced_to = "45 degC"
  rated     = "40 barg"
}
reducer "PCV-31" {
  set             = "1.5 barg"
  reference_inlet = "5 barg"
  cv              = 0.03
  droop           = "0.2 bar"
  supply_effect   = "2 %"
  lock_up         = "0.1 bar"
  range           = "0 .. 4 barg"
  ua              = "0 W/K"
  rated_inlet     = "40 barg"
  rated_outlet    = "16 barg"
  allow {
    outlet_pressure = "1.2 .. 1.7 barg"
    lift            = "10 .. 80 %"
  }
}
relief "PSV-31" {
  set          = "2.5 barg"
  action       = "proportional"
  overpressure = "10 %"
  blowdown     = "15 %"
  orifice      = "5 mm2"
  kd           = 0.8
  rated_inlet  = "16 barg"
  service      = "the reducer fails open"
}
tube "T-32" {
  size      = "6 mm x 1 mm"
  length    = "22 m"
  bends     = 8
  traced_to = "30 degC"
  rated     = "40 barg"
}
valve "V-34" {
  cv      = 0.2
  state   = "shut"
  rated   = "40 barg"
  service = "clearing with nitrogen; shut unless V-31 is"
}
check_valve "CK-34" {
  cv        = 0.2
  cracks_at = "0.1 bar"
  rated     = "40 barg"
  service   = "keeps ammonia out of the nitrogen"
}

# In the house, which is ventilated and kept at 20 degC. A site has one ambient, so
# what stands indoors is kept from exchanging heat with it (ua = "0 W/K").
valve "V-32" {
  cv      = 0.5
  seat    = "5 mm"
  ua      = "0 W/K"
  rated   = "40 barg"
  service = "isolation at the house"
}
filter "F-32" {
  cv     = 0.15
  volume = "40 mL"
  ua     = "0 W/K"
  rated  = "16 barg"
}
valve "NV-31" {
  cv      = 0.01
  opening = "20 %"
  seat    = "0.8 mm"
  ua      = "0 W/K"
  rated   = "40 barg"
  service = "flow of the analyzer for inerts"
}
valve "NV-32" {
  cv      = 0.01
  opening = "20 %"
  seat    = "0.8 mm"
  ua      = "0 W/K"
  rated   = "40 barg"
  service = "flow of the analyzer for oxygen"
}
valve "NV-33" {
  cv      = 0.05
  opening = "30 %"
  seat    = "2 mm"
  ua      = "0 W/K"
  rated   = "40 barg"
  service = "flow of the fast loop"
}
meter "FI-31" {
  drop  = "6 mbar"
  flow  = "1 slpm"
  scale = "0 .. 3 slpm"
  ua    = "0 W/K"
  rated = "16 barg"
  calibrated_for {
    fluid       = "vapour"
    pressure    = "0.6 barg"
    temperature = "25 degC"
  }
}
meter "FI-32" {
  drop  = "6 mbar"
  flow  = "1 slpm"
  scale = "0 .. 3 slpm"
  ua    = "0 W/K"
  rated = "16 barg"
  calibrated_for {
    fluid       = "vapour"
    pressure    = "0.6 barg"
    temperature = "25 degC"
  }
}
meter "FI-33" {
  drop  = "10 mbar"
  flow  = "10 slpm"
  scale = "0 .. 25 slpm"
  ua    = "0 W/K"
  rated = "16 barg"
  calibrated_for {
    fluid       = "vapour"
    pressure    = "0.6 barg"
    temperature = "25 degC"
  }
}
analyzer "AE-31" {
  cv      = 0.012
  volume  = "8 mL"
  ua      = "0 W/K"
  rated   = "6 barg"
  service = "inerts, by thermal conductivity"
}
analyzer "AE-32" {
  cv      = 0.02
  volume  = "15 mL"
  ua      = "0 W/K"
  rated   = "6 barg"
  service = "oxygen"
}

# The common return.
holder "BPH-31" {
  set           = "0.6 barg"
  cv            = 0.12
  accumulation  = "0.08 bar"
  outlet_effect = "3 %"
  range         = "0.2 .. 1.5 barg"
  ua            = "0 W/K"
  rated_inlet   = "16 barg"
  rated_outlet  = "16 barg"
  allow {
    lift = "10 .. 80 %"
  }
}
check_valve "CK-31" {
  cv        = 0.6
  cracks_at = "0.03 bar"
  ua        = "0 W/K"
  rated     = "16 barg"
  service   = "keeps the header's gas out when the house is down"
}
tube "T-33" {
  size      = "12 mm x 1 mm"
  length    = "25 m"
  bends     = 8
  traced_to = "15 degC"
  rated     = "40 barg"
}
