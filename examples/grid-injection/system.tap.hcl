# The analyzer house of a biomethane injection point: a scenario of our own.
# Every value in this folder is invented; none describes a part on sale.
system "grid-injection" {
  title = "Biomethane injection point, analyzer house"
}

site {
  elevation       = "410 m"
  ambient         = "12 degC"
  reference_state = "15 degC, 101.325 kPaa"
  shown_in        = { pressure = "barg", gas_flow = "slpm", temperature = "degC" }
}

given {
  flare_high = "0.45 barg"
}

fluid "biomethane" {
  mole_percent = { methane = "rest", carbon_dioxide = 1.9, nitrogen = 0.7, oxygen = 0.2, hydrogen = "1000 ppm" }
}
fluid "purge-nitrogen" {
  mole_percent = { nitrogen = 100 }
}

source "GRID" {
  fluid       = "biomethane"
  pressure    = "52 barg"
  temperature = "10 degC"
  service     = "tap with probe on the injection pipe"
}
source "PURGE" {
  fluid       = "purge-nitrogen"
  pressure    = "8 barg"
  temperature = "12 degC"
  service     = "nitrogen for purging before work on the sample system"
}
vent "FLARE" {
  pressure = "0.05 barg"
  service  = "flare header, swings from 0 to 0.45 barg"
}
vent "SAFE" {
  pressure = "0 barg"
  service  = "vent above the roof, for the relief valve only"
}

# From the pipe to the house. The reducer stands at the tap, so that the long
# tube holds little gas and the answer comes quickly.
line "sample" {
  path = <<-PATH
    GRID -> V-10 -> (PI-10) -> F-11 -> T-10 -> PCV-11
    -> (PI-11) -> T-11 -> V-12 -> F-12
    -> (PI-12)
  PATH
}
line "purge" { path = "PURGE -> V-20 -> CK-20 -> (PI-10)" }

# In the house: two analyzers and the fast loop, side by side.
line "chromatograph" {
  path = "(PI-12) -> NV-11 -> FI-11 -> T-21 -> AE-11 -> (PI-13)"
}
line "moisture" {
  path = "(PI-12) -> NV-12 -> FI-12 -> T-22 -> AE-12 -> (PI-13)"
}
line "fast-loop" { path = "(PI-12) -> NV-13 -> FI-13 -> (PI-13)" }
line "spare" { path = "(PI-12) -> V-19 -> (TP-19) -> cap" }

# What all three leave into, held apart from the header's swings.
line "return" { path = "(PI-13) -> BPH-11 -> CK-11 -> tube T-13(10 mm x 1 mm, 18 m, 6 bends, rise 4 m) -> FLARE" }

line "relief" {
  tube = "12 mm x 1 mm"
  path = "(PI-11) -> PSV-11 -> tube T-14(3 m, 2 bends, rise 3 m) -> SAFE"
}
