# A ball valve of 4 mm in a line of 6 mm: the reducers beside it take a quarter of what
# it passes, as much as they are part of the valve's own resistance.
valve "V-41" {
  cv          = 0.6
  bore        = "4 mm"
  inlet_line  = "6 mm"
  outlet_line = "6 mm"
}
filter "F-41" {
  cv     = 0.4
  volume = "30 mL"
}

# Three ways: the cell takes the sample or the calibration gas.
multiway "XV-41" {
  ports      = ["sample", "cal", "cell"]
  cv         = 0.1
  volume     = "0.5 mL"
  positions  = { measure = ["sample > cell"], calibrate = ["cal > cell"] }
  position   = "measure"
  on_failure = "measure"
  rated      = "10 barg"

  # Where its seat leaks the sample goes to the bleed, and that is what it is for.
  either_way = true
}

# Between the two, the line is bled while the cell measures: two seats and a way out
# lie between any calibration gas and the sample.
multiway "XV-42" {
  ports  = ["zero", "span", "out", "bleed"]
  cv     = 0.1
  volume = "0.5 mL"
  positions = {
    bled = ["out > bleed"],
    zero = ["zero > out"],
    span = ["span > out"],
  }
  position   = "bled"
  on_failure = "bled"
  rated      = "10 barg"
}

valve "NV-41" {
  cv      = 0.02
  opening = "30 %"
}
meter "FI-41" {
  cv    = 0.1
  scale = "0 .. 5 slpm"
}
analyzer "AE-41" {
  cv     = 0.05
  volume = "15 mL"
  rated  = "5 barg"
}
gauge "PI-41" { range = "0 .. 1 barg" }
gauge "PI-42" { range = "0 .. 2.5 barg" }
