# What the analyzer asks for, what the loop promises itself, and the gauges.
band "cell above boiling" {
  at       = "AE-21.in"
  pressure = ">= 8.5 barg"
}
band "cell keeps its distance" {
  at       = "AE-21.in"
  pressure = ">= 8.5 barg"
  cases    = ["loading lost", "needle wide open", "pump stopped"]
  level    = "caution"
}
band "cell flow" {
  at   = "AE-21"
  flow = "15 .. 30 L/h"
}
band "arrival" {
  at   = "AE-21.in"
  lag  = "<= 45 s" # transport from the tap
  from = "DISCHARGE"
}
band "fast loop" {
  at    = "FI-21"
  flow  = "250 .. 500 L/h"
  level = "caution"
}
band "thermal relief stays shut" {
  at   = "PSV-21"
  flow = "<= 0 L/h"
}

gauge "PI-20" { range = "0 .. 40 barg" }
gauge "PI-21" { range = "0 .. 40 barg" }
gauge "PI-22" { range = "0 .. 25 barg" }
gauge "PI-23" { range = "0 .. 25 barg" }
gauge "PI-24" { range = "0 .. 25 barg" }
