# The base is what the other files say.
case "winter" {
  site { ambient = "-18 degC" }
  source "GRID" { temperature = "2 degC" }
}
case "summer" {
  site { ambient = "38 degC" }
  source "GRID" { temperature = "18 degC" }
  tube "T-11" { traced_to = null } # tracing heats and cannot cool: off
}
case "flare header high" {
  vent "FLARE" { pressure = given.flare_high }
}
case "grid low" {
  source "GRID" { pressure = "30 barg" }
}
case "filter fouled" {
  filter "F-12" { fouled = "80 %" }
}
case "worst winter day" {
  after = ["winter", "grid low", "flare header high", "filter fouled"]
}

# Work on the system.
case "fast loop shut" {
  kind = "service"
  valve "NV-13" { state = "shut" }
}
case "nitrogen purge" {
  kind = "service"
  valve "V-10" { state = "shut" }
  valve "V-20" { state = "open" }
}

# What may fail, one thing at a time.
case "reducer wide open" {
  kind = "upset"
  reducer "PCV-11" { fault = "wide open" }
}
# Nothing flows, so everything rises to the reducer's lock-up, which is highest
# at the lowest grid pressure.
case "holder shut" {
  kind  = "upset"
  after = ["grid low"]
  holder "BPH-11" { fault = "shut" }
}
case "moisture cell plugged" {
  kind = "upset"
  analyzer "AE-12" { fault = "plugged" }
}
