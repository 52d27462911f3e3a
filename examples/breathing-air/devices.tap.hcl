# Parts and their settings, stage by stage; invented values.

# First stage, 6 barg.
check_valve "CK-1" {
  cv        = 3
  cracks_at = "0.1 bar"
  rated     = "16 barg"
}
relief "PSV-1" {
  set         = "8 barg"
  blowdown    = "10 %"
  orifice     = "40 mm2"
  kd          = 0.75
  rated_inlet = "16 barg"
  service     = "the second stage's valves leak back"
}
valve "V-1" {
  cv      = 0.2
  state   = "shut"
  rated   = "16 barg"
  service = "drain of the first separator"
}

# Second stage, 40 barg.
check_valve "CK-12" {
  cv           = 0.3
  leak_cv      = 0.12
  cracks_at    = "0.1 bar"
  rated_inlet  = "10 barg"
  rated_outlet = "64 barg"
  service      = "stands for the second stage's valves"
}
check_valve "CK-2" {
  cv        = 1.5
  cracks_at = "0.2 bar"
  rated     = "64 barg"
}
relief "PSV-2" {
  set         = "48 barg"
  blowdown    = "10 %"
  orifice     = "20 mm2"
  kd          = 0.75
  rated_inlet = "64 barg"
  service     = "the third stage's valves leak back"
}
valve "V-2" {
  cv      = 0.1
  state   = "shut"
  rated   = "64 barg"
  service = "drain of the second separator"
}

# Third stage, 300 barg, purifier and bank.
check_valve "CK-23" {
  cv           = 0.1
  leak_cv      = 0.03
  cracks_at    = "0.2 bar"
  rated_inlet  = "64 barg"
  rated_outlet = "350 barg"
  service      = "stands for the third stage's valves"
}
check_valve "CK-3" {
  cv        = 0.5
  cracks_at = "0.5 bar"
  rated     = "350 barg"
}
relief "PSV-3" {
  set         = "330 barg"
  blowdown    = "8 %"
  orifice     = "8 mm2"
  kd          = 0.75
  rated_inlet = "420 barg"
  service     = "the end-pressure switch fails"
}
filter "F-3" {
  cv      = 0.25
  volume  = "2.5 L"
  rated   = "350 barg"
  service = "purifier"
}
holder "BPH-4" {
  set           = "150 barg"
  cv            = 0.3
  accumulation  = "5 bar"
  outlet_effect = "0 %"
  rated_inlet   = "350 barg"
  rated_outlet  = "350 barg"
  service       = "keeps the purifier at pressure"
}
check_valve "CK-4" {
  cv        = 0.4
  cracks_at = "0.2 bar"
  rated     = "350 barg"
  service   = "keeps the bank's air when the compressor stands"
}
vessel "BANK" {
  volume  = "200 L"
  rated   = "330 barg"
  service = "four cylinders as one"
}

# Fill point, 200 barg.
valve "V-5" {
  cv    = 0.4
  rated = "350 barg"
}
filter "F-5" {
  cv    = 0.3
  rated = "350 barg"
}
reducer "PCV-6" {
  set             = "200 barg"
  reference_inlet = "300 barg"
  cv              = 0.06
  droop           = "8 bar"
  supply_effect   = "2 %"
  lock_up         = "3 bar"
  range           = "0 .. 250 barg"
  rated_inlet     = "350 barg"
  rated_outlet    = "280 barg"
}
relief "PSV-6" {
  set         = "250 barg"
  blowdown    = "8 %"
  orifice     = "5 mm2"
  kd          = 0.75
  rated_inlet = "350 barg"
  service     = "the reducer fails open"
}
valve "NV-7" {
  cv      = 0.02
  opening = "25 %"
  seat    = "1.5 mm"
  rated   = "300 barg"
  service = "rate of filling"
}
tube "T-7" {
  bore    = "4 mm"
  length  = "1.5 m"
  bends   = 2
  rated   = "225 barg"
  service = "fill hose"
}
valve "V-8" {
  cv      = 0.1
  rated   = "300 barg"
  service = "the cylinder's own valve"
}
valve "V-9" {
  cv      = 0.02
  state   = "shut"
  rated   = "300 barg"
  service = "bleeds the hose before it is taken off"
}
