# The base is what the other files say: the pack full, 100 slpm, 6 barg held.
case "pack low" {
  source "PACK" { pressure = given.pack_low }
}
case "warm" {
  site { ambient = given.warm }
  source "PACK" { temperature = given.warm }
}
# A full pack loses pressure as it cools.
case "cold" {
  site { ambient = given.cold }
  source "PACK" {
    pressure    = "175 barg"
    temperature = given.cold
  }
}
case "flow high" {
  flow_controller "FC-4" { set = "180 slpm" }
}
case "flow low" {
  flow_controller "FC-4" { set = "20 slpm" }
}
case "dome high" {
  reducer "PCV-7" { set = "8 barg" }
}
case "header high" {
  vent "HEADER" { pressure = "1.5 barg" }
}
case "hardest test" {
  after = ["pack low", "flow high", "dome high", "header high"]
}

case "pack shut" {
  kind = "service"
  valve "V-1" { state = "shut" }
}

# What may fail, one thing at a time.
case "first reducer wide open" {
  kind = "upset"
  reducer "PCV-1" { fault = "wide open" }
}
case "second reducer wide open" {
  kind = "upset"
  reducer "PCV-2" { fault = "wide open" }
}
case "pilot shut" {
  kind = "upset"
  reducer "PCV-7" { fault = "shut" }
}
case "pilot wide open" {
  kind = "upset"
  reducer "PCV-7" { fault = "wide open" }
}
case "loading lost" {
  kind = "upset"
  holder "BPH-6" { fault = "loading lost" }
}
# At the lowest pack pressure both reducers stand highest.
case "holder shut" {
  kind  = "upset"
  after = ["pack low"]
  holder "BPH-6" { fault = "shut" }
}
