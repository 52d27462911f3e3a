# What filling asks for, and the gauges.
band "rate of filling" {
  at    = "V-8"
  flow  = "50 .. 350 slpm"
  level = "caution"
}
band "fill pressure" {
  at       = "(PI-6)"
  pressure = "190 .. 205 barg"
  except   = ["bank run down"]
}
band "purifier stays at pressure" {
  at       = "(PI-4)"
  pressure = ">= 145 barg"
}
band "reliefs stay shut" {
  at   = ["PSV-1", "PSV-2", "PSV-3", "PSV-6"]
  flow = "<= 0 slpm"
}

gauge "PI-1" { range = "0 .. 16 barg" }
gauge "PI-2" { range = "0 .. 100 barg" }
gauge "PI-3" { range = "0 .. 400 barg" }
gauge "PI-4" { range = "0 .. 400 barg" }
gauge "PI-5" { range = "0 .. 400 barg" }
gauge "PI-6" { range = "0 .. 400 barg" }
gauge "PI-7" { range = "0 .. 400 barg" }
