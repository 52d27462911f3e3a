# What the analyzers ask for, what the system promises itself, and the gauges.
band "cells" {
  at       = ["AE-31.in", "AE-32.in"]
  pressure = "0.5 .. 0.8 barg"
}
band "cell flow" {
  at   = ["AE-31", "AE-32"]
  flow = "0.5 .. 1.2 slpm" # nitrogen, being heavier, passes more slowly
}
band "arrival" {
  at   = ["AE-31.in", "AE-32.in"]
  lag  = "<= 30 s" # transport from the tap
  from = "SPHERE"
}
band "kept dry" {
  at         = ["PCV-31.in", "(PI-33)"]
  dew_margin = ">= 10 K"
}
band "fast loop" {
  at    = "FI-33"
  flow  = "6 .. 15 slpm"
  level = "caution"
}
band "relief stays shut" {
  at    = "PSV-31"
  flow  = "<= 0 slpm"
  kinds = ["operating", "service"]
}
band "sphere's gas only" {
  at    = ["AE-31.in", "AE-32.in"]
  share = { "SPHERE" = ">= 99.9 %" }
  kinds = ["operating", "upset"]
  level = "caution"
}

gauge "PI-31" { range = "0 .. 16 barg" }
gauge "PI-32" { range = "0 .. 4 barg" }
gauge "PI-33" { range = "0 .. 4 barg" }
gauge "PI-34" { range = "0 .. 2.5 barg" }
