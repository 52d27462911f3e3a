# Parts and their settings, in the order the gas meets them; invented values.

# At the pack's pressure.
valve "V-1" {
  cv      = 0.6
  rated   = "250 barg"
  service = "isolation of the pack"
}
filter "F-1" {
  cv      = 0.4
  volume  = "50 mL"
  rated   = "250 barg"
  service = "keeps dirt off the reducers' seats"
}
reducer "PCV-1" {
  set             = "20 barg"
  reference_inlet = "200 barg"
  cv              = 0.02
  droop           = "1.5 bar"
  supply_effect   = "1 %"
  lock_up         = "0.6 bar"
  range           = "0 .. 35 barg"
  rated_inlet     = "250 barg"
  rated_outlet    = "40 barg"
  allow {
    outlet_pressure = "18.5 .. 22.5 barg"
    lift            = "<= 80 %"
  }
}
relief "PSV-2" {
  set          = "26 barg"
  overpressure = "10 %"
  blowdown     = "10 %"
  orifice      = "25 mm2"
  kd           = 0.8
  rated_inlet  = "60 barg"
  rated_outlet = "16 barg"
  service      = "PCV-1 fails open"
}

# Between the reducers.
reducer "PCV-2" {
  set             = "12 barg"
  reference_inlet = "20 barg"
  cv              = 0.04
  droop           = "0.6 bar"
  supply_effect   = "1.5 %"
  lock_up         = "0.3 bar"
  range           = "0 .. 20 barg"
  rated_inlet     = "40 barg"
  rated_outlet    = "25 barg"
  allow {
    outlet_pressure = "11.3 .. 12.4 barg"
  }
}
relief "PSV-3" {
  set          = "15 barg"
  overpressure = "10 %"
  blowdown     = "10 %"
  orifice      = "16 mm2"
  kd           = 0.8
  rated_inlet  = "40 barg"
  rated_outlet = "16 barg"
  service      = "PCV-2 fails open"
}

# The test.
flow_controller "FC-4" {
  set        = "100 slpm"
  least_drop = "1.5 bar"
  range      = "4 .. 200 slpm"
  rated      = "25 barg"
}
equipment "E-5" {
  cv      = 0.15
  volume  = "1.2 L"
  rated   = "18 barg"
  service = "test article"
}
holder "BPH-6" {
  cv            = 0.12
  accumulation  = "0.1 bar"
  outlet_effect = "2 %"
  range         = "1 .. 10 barg"
  rated_inlet   = "25 barg"
  rated_outlet  = "25 barg"
  loading {
    dome  = "(PI-7)"
    ratio = 1
    bias  = "0.2 bar"
  }
  allow {
    lift = "2 .. 80 %"
  }
}
check_valve "CK-6" {
  cv        = 1
  cracks_at = "0.03 bar"
  rated     = "16 barg"
  service   = "keeps what others vent out of the bench"
}

# The dome's pressure.
reducer "PCV-7" {
  set             = "6 barg"
  reference_inlet = "20 barg"
  cv              = 0.01
  droop           = "0.3 bar"
  supply_effect   = "0.5 %"
  lock_up         = "0.1 bar"
  range           = "0 .. 10 barg"
  rated_inlet     = "40 barg"
  rated_outlet    = "40 barg"
  service         = "pilot of the holder BPH-6"
}
orifice "RO-7" {
  bore    = "0.15 mm"
  cd      = 0.8
  edge    = "thick"
  rated   = "40 barg"
  service = "bleed of the dome"
}
