# What the test asks for, and the gauges.
band "held pressure" {
  at       = "(PI-5)"
  pressure = "5.8 .. 6.4 barg"
  except   = ["dome high", "hardest test"]
}
band "held pressure, dome high" {
  at       = "(PI-5)"
  pressure = "7.8 .. 8.4 barg"
  cases    = ["dome high", "hardest test"]
}
band "test flow" {
  at     = "E-5"
  flow   = "99 .. 101 slpm"
  except = ["flow high", "flow low", "hardest test"]
}
band "test flow, high" {
  at    = "E-5"
  flow  = "178 .. 182 slpm"
  cases = ["flow high", "hardest test"]
}
band "test flow, low" {
  at    = "E-5"
  flow  = "19.8 .. 20.2 slpm"
  cases = ["flow low"]
}
band "article inlet" {
  at          = "E-5.in"
  temperature = "-20 .. 50 degC"
}
band "room of the controller" {
  at   = "FC-4"
  drop = ">= 1.5 bar"
}
band "stack stays quiet" {
  at   = ["PSV-2", "PSV-3"]
  flow = "<= 0 slpm"
}
# Two upsets that end low, not high: the article is emptied to the header.
band "article empties" {
  at       = "(PI-5)"
  pressure = "<= 0.5 barg"
  cases    = ["pilot shut", "loading lost"]
}

gauge "PI-1" { range = "0 .. 315 barg" }
gauge "PI-2" { range = "0 .. 40 barg" }
gauge "PI-3" { range = "0 .. 25 barg" }
gauge "PI-4" { range = "0 .. 25 barg" }
gauge "PI-5" { range = "0 .. 25 barg" }
gauge "PI-7" { range = "0 .. 40 barg" }
