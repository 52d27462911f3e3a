system "analyzer-house" {
  title = "Hydrogen purity house, two analyzers with a common return and a knock-out pot"
}
site {
  elevation       = "410 m"
  reference_state = "15 degC, 101.325 kPaa"
}
# Invented, for the tests of the printers: nothing here is solved.
band "GC cell" {
  at         = ["AE-11.in", "AE-12.in"]
  pressure   = "0.9 .. 1.4 barg"
  flow       = "0.8 .. 1.2 slpm"
  dew_margin = ">= 10 K"
  lag        = "<= 60 s"
}
band "return header stays below the knock-out pot" {
  at       = "(P3)"
  pressure = "<= 0.6 barg"
  level    = "caution"
}
reducer "PCV-11" {
  set         = "3.5 barg"
  rated_inlet = "250 barg"
}
relief "PSV-11" {
  set = "6 barg"
}
