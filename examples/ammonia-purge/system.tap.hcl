# What leaves an ammonia sphere while it is purged, sampled: a scenario of our own.
# Every value in this folder is invented; none describes a part on sale.
system "ammonia-purge" {
  title = "Purging of an ammonia sphere, inerts and oxygen in the vapour"
}

site {
  elevation       = "90 m"
  ambient         = "12 degC"
  reference_state = "15 degC, 101.325 kPaa"
  shown_in        = { pressure = "barg", gas_flow = "slpm", temperature = "degC" }
}

given {
  header_high = "0.25 barg"
  frost       = "-18 degC"
}

# Peng-Robinson: GERG-2008 has no ammonia, and what ammonia has of its own is for it alone.
fluid "vapour" {
  mole_percent = { ammonia = "rest", nitrogen = 3, argon = 0.2, methane = 0.3, oxygen = "20 ppm" }
}
fluid "purge-nitrogen" {
  mole_percent = { nitrogen = 100 }
}

source "SPHERE" {
  fluid       = "vapour"
  pressure    = "5 barg"
  temperature = "24 degC"
  service     = "tap on the purge line, vapour from a vaporiser"
}
source "NITROGEN" {
  fluid       = "purge-nitrogen"
  pressure    = "7 barg"
  temperature = "12 degC"
  service     = "clears the sample system of ammonia before it is opened"
}
vent "SCRUBBER" {
  pressure = "0.05 barg"
  service  = "header to the water scrubber, swings from 0 to 0.25 barg; everything goes there"
}

# The reducer stands at the tap, heated, because at the sphere's pressure the vapour
# condenses on a cold day.
line "sample" {
  path = <<-PATH
    SPHERE -> V-31 -> (PI-31) -> F-31 -> T-31 -> PCV-31
    -> (PI-32) -> T-32 -> V-32 -> F-32
    -> (PI-33)
  PATH
}
line "clearing" { path = "NITROGEN -> V-34 -> CK-34 -> (PI-31)" }

# In the house: two analyzers and the fast loop, side by side.
line "inerts" { path = "(PI-33) -> NV-31 -> FI-31 -> AE-31 -> (PI-34)" }
line "oxygen" { path = "(PI-33) -> NV-32 -> FI-32 -> AE-32 -> (PI-34)" }
line "fast-loop" { path = "(PI-33) -> NV-33 -> FI-33 -> (PI-34)" }
line "return" { path = "(PI-34) -> BPH-31 -> CK-31 -> T-33 -> SCRUBBER" }

# Not to the roof: to the scrubber, like all else.
line "relief" {
  tube = "12 mm x 1 mm"
  path = "(PI-32) -> PSV-31 -> tube T-34(6 m, 4 bends, rise 2 m) -> SCRUBBER"
}
