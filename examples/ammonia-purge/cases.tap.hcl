# The base is what the other files say.
case "winter" {
  site { ambient = given.frost }
  source "SPHERE" { temperature = "20 degC" }
}
case "summer" {
  site { ambient = "36 degC" }
  source "SPHERE" { temperature = "34 degC" }
  tube "T-32" { traced_to = null } # tracing heats and cannot cool: off
  tube "T-33" { traced_to = null }
}
case "purge begins" {
  fluid "vapour" {
    mole_percent = { ammonia = 15, nitrogen = "rest", argon = 0.9, oxygen = "0.3 %" }
  }
}
case "purge ends" {
  fluid "vapour" {
    mole_percent = { ammonia = "rest", nitrogen = 0.1, oxygen = "2 ppm" }
  }
}
case "header high" {
  vent "SCRUBBER" { pressure = given.header_high }
}
case "sphere low" {
  source "SPHERE" { pressure = "3 barg" }
}
case "worst winter day" { after = ["winter", "purge ends", "sphere low", "header high"] }
case "cleared with nitrogen" {
  kind = "service"
  valve "V-31" { state = "shut" }
  valve "V-34" { state = "open" }
}

# Each device alone, in the order the gas meets them.
case "tracing fails" {
  kind  = "upset"
  after = ["winter"]
  tube "T-31" { traced_to = null }
  tube "T-32" { traced_to = null }
}
case "tap filter plugged" {
  kind = "upset"
  filter "F-31" { fault = "plugged" }
}
case "reducer wide open" {
  kind = "upset"
  reducer "PCV-31" { fault = "wide open" }
}
case "reducer shut" {
  kind = "upset"
  reducer "PCV-31" { fault = "shut" }
}
case "relief leaks" {
  kind = "upset"
  relief "PSV-31" {
    leak_cv = 0.002
    fault   = "seat leak"
  }
}
case "house filter plugged" {
  kind = "upset"
  filter "F-32" { fault = "plugged" }
}
case "needle wide open" {
  kind = "upset"
  valve "NV-31" { fault = "wide open" }
}
case "inerts cell plugged" {
  kind = "upset"
  analyzer "AE-31" { fault = "plugged" }
}
case "oxygen cell plugged" {
  kind = "upset"
  analyzer "AE-32" { fault = "plugged" }
}
case "holder wide open" {
  kind = "upset"
  holder "BPH-31" { fault = "wide open" }
}
case "holder shut" {
  kind = "upset"
  holder "BPH-31" { fault = "shut" }
}
case "return check stuck shut" {
  kind = "upset"
  check_valve "CK-31" { fault = "shut" }
}
case "scrubber blocked" {
  kind = "upset"
  vent "SCRUBBER" { pressure = "1 barg" }
}
case "nitrogen valve leaks" {
  kind = "upset"
  valve "V-34" {
    leak  = "20 mL/min at 7 bar"
    fault = "seat leak"
  }
}
case "nitrogen valve left open" {
  kind = "upset"
  valve "V-34" { fault = "wide open" }
}
