# What the analyzers ask for, what the house promises itself, and the gauges.
band "chromatograph cell" {
  at       = "AE-11.in"
  pressure = "1.1 .. 1.4 barg"
  lag      = "<= 60 s" # transport from the tap
  from     = "GRID"
}
band "moisture cell" {
  at       = "AE-12.in"
  pressure = "1.1 .. 1.4 barg"
  lag      = "<= 60 s" # transport from the tap
  from     = "GRID"
}
band "heating value known" {
  at   = "AE-11" # what it shows: through its cell and its cycle
  lag  = "<= 5 min"
  from = "GRID"
}
band "cell flow" {
  at   = ["AE-11", "AE-12"]
  flow = "0.8 .. 1.2 slpm"
}
band "arrival" {
  at          = "(PI-12)"
  pressure    = "3.1 .. 4 barg"
  temperature = ">= 5 degC"
}
band "after the reducer" {
  at          = "(PI-11)"
  temperature = ">= -5 degC"
  level       = "caution"
}
band "fast loop" {
  at    = "FI-13"
  flow  = "8 .. 15 slpm"
  level = "caution"
}
band "safe vent stays quiet" {
  at    = "PSV-11"
  flow  = "<= 0 slpm"
  kinds = ["operating", "service"]
}
band "purge reaches the cells" {
  at    = ["AE-11", "AE-12"]
  flow  = ">= 0.5 slpm"
  cases = ["nitrogen purge"]
}

gauge "PI-10" { range = "0 .. 100 barg" }
gauge "PI-11" { range = "0 .. 10 barg" }
gauge "PI-12" { range = "0 .. 10 barg" }
gauge "PI-13" { range = "0 .. 6 barg" }
