# A bench that proves parts under hydrogen: a scenario of our own.
# Every value in this folder is invented; none describes a part on sale.
system "hydrogen-bench" {
  title = "Hydrogen test bench with a dome-loaded holder"
}

site {
  elevation       = "90 m"
  ambient         = "20 degC"
  reference_state = "15 degC, 101.325 kPaa"
  shown_in        = { pressure = "barg", gas_flow = "slpm", temperature = "degC" }
}

given {
  pack_low  = "30 barg"
  warm      = "40 degC"
  cold      = "-15 degC"
  test_flow = "100 slpm"
}

fluid "hydrogen" {
  mole_percent = { hydrogen = 100 }
}

source "PACK" {
  fluid       = "hydrogen"
  pressure    = "200 barg"
  temperature = "20 degC"
  service     = "cylinder pack outside, 200 barg full, changed at 30 barg"
}
vent "HEADER" {
  pressure = "0.1 barg"
  service  = "vent header of the laboratory, up to 1.5 barg when others blow down"
}
vent "SAFE" {
  pressure = "0 barg"
  service  = "stack above the roof, for the reliefs and the dome's bleed"
}

# From the pack, through two reducers in series, to the article's inlet.
line "supply" {
  path = <<-PATH
    PACK -> V-1 -> (PI-1) -> F-1 -> tube T-1(10 mm x 2 mm, 12 m, 8 bends) -> PCV-1
    -> (PI-2) -> PCV-2
    -> (PI-3)
  PATH
}

# The controller sets the flow through the article, the holder its pressure.
line "test" {
  path = <<-PATH
    (PI-3) -> FC-4 -> (PI-4) -> tube T-4(8 mm x 1 mm, 4 m, 6 bends) -> E-5
    -> (PI-5) -> BPH-6 -> CK-6 -> tube T-6(12 mm x 1 mm, 15 m, 5 bends, rise 6 m) -> HEADER
  PATH
}

# A pilot reducer loads the holder's dome; the small bleed lets the dome follow
# the pilot down as well as up.
line "pilot" { path = "(PI-2) -> PCV-7 -> (PI-7) -> RO-7 -> SAFE" }

line "relief-first" {
  tube = "22 mm x 1.5 mm"
  path = "(PI-2) -> PSV-2 -> tube T-21(6 m, 2 bends, rise 5 m) -> SAFE"
}
line "relief-second" {
  tube = "22 mm x 1.5 mm"
  path = "(PI-3) -> PSV-3 -> tube T-31(6 m, 2 bends, rise 5 m) -> SAFE"
}
