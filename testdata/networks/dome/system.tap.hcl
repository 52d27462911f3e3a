# A scenario of our own; every value is invented. expected.json comes from the
# independent solution in ../solve.py, not from the product.
# The dome of a reducer and the dome of a holder both follow (P7), which a small
# pilot reducer holds; the difference between them stays as the pilot moves.
system "dome" {
  title   = "Dome-loaded reducer and holder behind one pilot"
  thermal = "isenthalpic"
}
site {
  atmosphere      = "1.02 bara"
  reference_state = "15 degC, 101.325 kPaa"
}
fluid "blend" {
  mole_percent = { methane = "rest", hydrogen = 25 }
}
source "PACK" {
  fluid       = "blend"
  pressure    = "60 barg"
  temperature = "20 degC"
}
reducer "PCV-7" {
  set             = "5 barg"
  reference_inlet = "60 barg"
  cv              = 0.003
  droop           = "0.2 bar"
  supply_effect   = "2 %"
  lock_up         = "0.1 bar"
}
valve "NV-7" { cv = 0.004 }
reducer "PCV-1" {
  reference_inlet = "60 barg"
  cv              = 0.03
  droop           = "0.25 bar"
  supply_effect   = "1 %"
  loading {
    dome  = "(P7)"
    ratio = 1.0
    bias  = "0.8 bar"
  }
}
valve "NV-1" { cv = 0.08 }
analyzer "AE-1" { cv = 0.15 }
holder "BPH-1" {
  cv               = 0.3
  accumulation     = "0.12 bar"
  outlet_effect    = "3 %"
  reference_outlet = "1 barg"
  loading {
    dome  = "(P7)"
    ratio = 1.0
    bias  = "-1.2 bar"
  }
}
vent "HDR" { pressure = "0.5 barg" }
vent "ATM" { pressure = "0 barg" }
line "pilot" { path = "(P0) -> PCV-7 -> (P7) -> NV-7 -> ATM" }
filter "F-1" { cv = 0.15 }
line "main" {
  path = <<-PATH
    PACK -> F-1
    -> (P0) -> PCV-1
    -> (P1) -> NV-1
    -> (P2) -> AE-1
    -> (P3) -> BPH-1 -> HDR
  PATH
}
case "bias against the dome" {
  reducer "PCV-1" {
    loading {
      bias = "-0.5 bar"
    }
  }
}
case "pilot high" {
  reducer "PCV-7" { set = "9 barg" }
}
case "pack low" {
  source "PACK" { pressure = "25 barg" }
}
case "header high" {
  vent "HDR" { pressure = "2 barg" }
}
case "smaller domes" {
  reducer "PCV-1" {
    loading {
      ratio = 0.9
    }
  }
  holder "BPH-1" {
    loading {
      ratio = 0.8
      bias  = "0.2 bar"
    }
  }
}
case "pack low, against the dome" {
  after = ["bias against the dome", "pack low"]
}
