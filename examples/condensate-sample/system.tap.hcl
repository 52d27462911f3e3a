# A sample loop on condensate close to boiling: a scenario of our own.
# Every value in this folder is invented; none describes a part on sale.
system "condensate-sample" {
  title = "Condensate at the run-down pump, density and vapour pressure"
}

site {
  elevation = "35 m"
  ambient   = "18 degC"
  shown_in  = { pressure = "barg", liquid_flow = "L/h", temperature = "degC" }
}

given {
  summer      = "38 degC"
  return_high = "8.6 barg"
}

fluid "condensate" {
  mole_percent = {
    methane    = 1.2
    ethane     = 3.4
    propane    = 10.5
    isobutane  = 5
    n_butane   = 11.5
    isopentane = 8
    n_pentane  = 9
    n_hexane   = 17
    n_heptane  = "rest"
    n_octane   = 11
    n_nonane   = 5
    n_decane   = 2
  }
  phase = "liquid"
}

# A separator at 5.5 barg and 42 degC, a cooler, then the pump: what reaches its suction
# boils only little below the pressure there.
source "DISCHARGE" {
  fluid       = "condensate"
  pressure    = "18 barg"
  temperature = "30 degC"
  service     = "tap with probe on the discharge of the run-down pump"
}
vent "SUCTION" {
  pressure = "6.2 barg"
  service  = "return to the suction of the same pump, up to 8.6 barg"
}
vent "DRAIN" {
  pressure = "0.2 barg"
  service  = "closed drain, for thermal relief only"
}

# The fast loop, from discharge to suction. It washes the outside of the filter
# element on its way; what the analyzer gets goes through it.
line "supply" { path = "DISCHARGE -> V-21 -> (PI-20) -> T-21 -> V-22 -> (PI-21) -> F-21.in" }
line "fast-loop" {
  path = "F-21.bypass -> NV-21 -> FI-21 -> NV-23 -> (PI-24)"
}
line "return" { path = "(PI-24) -> T-24 -> V-24 -> CK-24 -> SUCTION" }

# The slip stream. The holder follows the return: its dome is joined to (PI-24).
line "analyzer" {
  path = <<-PATH
    F-21.out -> V-25 -> NV-22 -> FI-22 -> T-22
    -> (PI-22) -> AE-21 -> V-26 -> (PI-23) -> BPH-21 -> (PI-24)
  PATH
}

# What liquid that is shut in and grows warm needs.
line "loop-relief" {
  tube = "6 mm x 1 mm"
  path = "(PI-21) -> PSV-21 -> tube T-25(4 m, 3 bends) -> DRAIN"
}
