# The base: bank full, a cylinder at half pressure on the hose.
case "cylinder empty" {
  vent "CYLINDER" { pressure = "5 barg" }
}
case "cylinder nearly full" {
  vent "CYLINDER" { pressure = "190 barg" }
}
case "hot day" {
  site { ambient = "38 degC" }
  source "STAGE-1" { temperature = "53 degC" }
  source "STAGE-2" { temperature = "53 degC" }
  source "STAGE-3" { temperature = "48 degC" }
}
# The machine is still charging: the bank is little above what filling wants.
case "bank low" {
  source "STAGE-3" { pressure = "215 barg" }
}
# The valve is opened further than the machine can follow: it gives its flow, and
# the bank runs down to where filling takes no more.
case "bank run down" {
  source "STAGE-3" {
    pressure = null
    flow     = "250 slpm"
  }
  valve "NV-7" { opening = "60 %" }
  vent "CYLINDER" { pressure = "60 barg" }
}
case "purifier loaded" {
  filter "F-3" { fouled = "80 %" }
}

case "hose ready" {
  kind = "service"
  valve "V-8" { state = "shut" }
}
case "bleeding the hose" {
  kind = "service"
  valve "V-8" { state = "shut" }
  valve "NV-7" { state = "shut" }
  valve "V-9" { state = "open" }
}
case "draining" {
  kind = "service"
  valve "V-1" { state = "open" }
  valve "V-2" { state = "open" }
}

# What may fail, one thing at a time.
case "second stage leaks back" {
  kind = "upset"
  check_valve "CK-12" { fault = "seat leak" }
}
case "third stage leaks back" {
  kind = "upset"
  check_valve "CK-23" { fault = "seat leak" }
}
# The switch does not stop the machine: it now gives a flow, and no longer the
# pressure at which the switch would hold it.
case "end-pressure switch fails" {
  kind = "upset"
  source "STAGE-3" {
    pressure = null
    flow     = "250 slpm"
  }
  valve "V-8" { state = "shut" }
}
case "reducer wide open, filling" {
  kind = "upset"
  reducer "PCV-6" { fault = "wide open" }
}
case "reducer wide open, hose ready" {
  kind  = "upset"
  after = ["hose ready"]
  reducer "PCV-6" { fault = "wide open" }
}

# A cylinder as it fills, from a warm bank and a cold one: every combination.
spread "cylinder filling" {
  vent "CYLINDER" { pressure = "20 .. 180 barg by 20 bar" }
  site { ambient = "0, 20, 35 degC" }
}
