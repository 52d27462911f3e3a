# The base is what the other files say.
case "winter" {
  site { ambient = "-12 degC" }
  source "DISCHARGE" { temperature = "24 degC" }
}
case "summer" {
  site { ambient = given.summer }
  source "DISCHARGE" { temperature = "34 degC" }
}
# The separator runs at 7.9 barg: the condensate keeps more of what is
# light, and the whole loop rises with it.
case "separator high" {
  fluid "condensate" {
    mole_percent = {
      methane    = 1.6
      ethane     = 3.3
      propane    = 24
      isobutane  = 7
      n_butane   = 13
      isopentane = 7
      n_pentane  = 8
      n_hexane   = 13
      n_heptane  = "rest"
      n_octane   = 8
      n_nonane   = 3
      n_decane   = 1.1
    }
  }
  source "DISCHARGE" { pressure = "20.4 barg" }
  vent "SUCTION" { pressure = given.return_high }
}
# The pump runs far out on its curve, against a suction that is high.
case "return high" {
  vent "SUCTION" { pressure = given.return_high }
}
case "filter fouled" {
  filter "F-21" { fouled = "80 %" }
}
case "worst summer day" { after = ["summer", "separator high", "filter fouled"] }

# Work on the system.
case "cabinet shut in" {
  kind = "service"
  valve "V-21" { state = "shut" }
  valve "V-24" { state = "shut" }
}
case "cell shut in" {
  kind = "service"
  valve "V-25" { state = "shut" }
  valve "V-26" { state = "shut" }
}

# What may fail, one thing at a time, on the hottest day.
case "filter plugged" {
  kind  = "upset"
  after = ["summer"]
  filter "F-21" { fault = "plugged" }
}
case "holder stuck shut" {
  kind  = "upset"
  after = ["summer"]
  holder "BPH-21" { fault = "shut" }
}
case "loading lost" {
  kind  = "upset"
  after = ["summer"]
  holder "BPH-21" { fault = "loading lost" }
}
case "needle wide open" {
  kind  = "upset"
  after = ["summer"]
  valve "NV-22" { fault = "wide open" }
}
case "pump stopped" {
  kind  = "upset"
  after = ["summer"]
  source "DISCHARGE" { pressure = "6.2 barg" }
}
case "return shut by mistake" {
  kind  = "upset"
  after = ["summer"]
  valve "V-24" { state = "shut" }
}
