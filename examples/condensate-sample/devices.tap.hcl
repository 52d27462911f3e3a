# Parts and their settings, in the order the condensate meets them; invented values.

# At the pump.
valve "V-21" {
  cv      = 1.2
  volume  = "8 mL"
  rated   = "60 barg"
  service = "isolation at the tap"
}
tube "T-21" {
  size       = "10 mm x 1 mm"
  length     = "14 m"
  bends      = 8
  rise       = "2 m"
  insulation = "19 mm"
  rated      = "60 barg"
}

# In the analyzer cabinet.
valve "V-22" {
  cv      = 1.2
  volume  = "8 mL"
  rated   = "60 barg"
  service = "isolation of the cabinet, supply"
}
filter "F-21" {
  cv      = 0.25
  volume  = "30 mL"
  rated   = "60 barg"
  service = "bypass filter; the fast loop sweeps its element"
}
# Two steps, so that neither cavitates so near to boiling.
valve "NV-21" {
  cv      = 0.45
  opening = "37 %"
  seat    = "4 mm"
  rated   = "60 barg"
  service = "flow of the fast loop, first step"
}
meter "FI-21" {
  drop  = "60 mbar"
  flow  = "500 L/h"
  scale = "0 .. 600 L/h"
  rated = "40 barg"
  calibrated_for {
    fluid       = "condensate"
    pressure    = "10 barg"
    temperature = "30 degC"
  }
}
valve "NV-23" {
  cv      = 0.45
  opening = "54 %"
  seat    = "4 mm"
  rated   = "60 barg"
  service = "flow of the fast loop, second step"
}
valve "V-25" {
  cv      = 0.3
  volume  = "1 mL"
  rated   = "60 barg"
  service = "isolation of the analyzer, supply"
}
valve "NV-22" {
  cv      = 0.05
  opening = "14 %"
  seat    = "1.2 mm"
  volume  = "1 mL"
  rated   = "60 barg"
  service = "flow of the analyzer"
}
meter "FI-22" {
  drop   = "20 mbar"
  flow   = "20 L/h"
  scale  = "0 .. 60 L/h"
  volume = "4 mL"
  rated  = "40 barg"
  calibrated_for {
    fluid       = "condensate"
    pressure    = "9 barg"
    temperature = "30 degC"
  }
}
tube "T-22" {
  size   = "6 mm x 1 mm"
  length = "1.5 m"
  bends  = 4
  rated  = "60 barg"
}
analyzer "AE-21" {
  cv      = 0.1
  volume  = "25 mL"
  cycle   = "30 s"
  rated   = "40 barg"
  service = "density, by an oscillating tube"
}
valve "V-26" {
  cv      = 0.3
  rated   = "60 barg"
  service = "isolation of the analyzer, return"
}
holder "BPH-21" {
  cv           = 0.05
  accumulation = "0.25 bar"
  range        = "0.5 .. 25 barg"
  rated_inlet  = "40 barg"
  rated_outlet = "40 barg"
  loading {
    dome  = "(PI-24)"
    ratio = 1
    bias  = "2.5 bar"
  }
  allow {
    lift = "10 .. 90 %"
  }
}

# Back to the pump.
tube "T-24" {
  size       = "10 mm x 1 mm"
  length     = "16 m"
  bends      = 8
  rise       = "-2 m"
  insulation = "19 mm"
  rated      = "60 barg"
}
valve "V-24" {
  cv      = 1.2
  rated   = "60 barg"
  service = "isolation at the suction"
}
check_valve "CK-24" {
  cv        = 1.5
  cracks_at = "0.03 bar"
  rated     = "60 barg"
  service   = "keeps the suction out of the cabinet when the pump is down"
}

# Thermal relief.
relief "PSV-21" {
  set          = "30 barg"
  action       = "proportional"
  overpressure = "10 %"
  blowdown     = "15 %"
  orifice      = "3 mm2"
  kd           = 0.6
  rated_inlet  = "60 barg"
  rated_outlet = "16 barg"
  service      = "loop shut in, full of liquid, and warming"
}
