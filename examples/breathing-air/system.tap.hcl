# A filling station for breathing air: a scenario of our own.
# Every value in this folder is invented; none describes a part on sale.
system "breathing-air" {
  title = "Breathing air: three compressor stages, bank and fill point"
}

site {
  elevation       = "15 m"
  ambient         = "20 degC"
  reference_state = "15 degC, 101.325 kPaa"
  shown_in        = { pressure = "barg", gas_flow = "slpm", temperature = "degC" }
}

# Dry air. What the purifier has to take out is not judged here.
fluid "air" {
  mole_percent = { nitrogen = "rest", oxygen = 20.95, argon = 0.93, carbon_dioxide = "420 ppm" }
}

# The compressor is given by what stands behind the cooler of each stage.
source "STAGE-1" {
  fluid       = "air"
  pressure    = "6 barg"
  temperature = "35 degC"
}
source "STAGE-2" {
  fluid       = "air"
  pressure    = "40 barg"
  temperature = "35 degC"
}
source "STAGE-3" {
  fluid       = "air"
  pressure    = "300 barg"
  temperature = "30 degC"
}
vent "OUTDOORS" {
  pressure = "0 barg"
  service  = "where the reliefs and the drains blow"
}
vent "CYLINDER" {
  pressure = "100 barg"
  service  = "the cylinder being filled, at one moment of its filling"
}

# CK-12 and CK-23 stand for the valves of the second and third stage: they pass
# air upward only, and leak when they wear.
line "stages" {
  path = [
    "STAGE-1 -> CK-1 -> (PI-1) -> CK-12 -> (PI-2)",
    "STAGE-2 -> CK-2 -> (PI-2) -> CK-23 -> (PI-3)",
    "STAGE-3 -> CK-3 -> (PI-3)",
  ]
}
line "reliefs" {
  path = [
    "(PI-1) -> PSV-1 -> OUTDOORS",
    "(PI-2) -> PSV-2 -> OUTDOORS",
    "(PI-3) -> PSV-3 -> OUTDOORS",
  ]
}
line "drains" {
  path = [
    "(PI-1) -> V-1 -> OUTDOORS",
    "(PI-2) -> V-2 -> OUTDOORS",
  ]
}

# The holder keeps the purifier at pressure while the bank is low.
line "charge" {
  path = <<-PATH
    (PI-3) -> F-3 -> (PI-4) -> BPH-4 -> CK-4 -> tube T-4(8 mm x 1.5 mm, 6 m, 5 bends)
    -> BANK
  PATH
}
line "fill" {
  path = <<-PATH
    BANK -> V-5 -> (PI-5) -> F-5 -> PCV-6
    -> (PI-6) -> NV-7 -> T-7
    -> (PI-7) -> V-8 -> CYLINDER
  PATH
}
line "fill-relief" { path = "(PI-6) -> PSV-6 -> OUTDOORS" }
line "bleed" { path = "(PI-7) -> V-9 -> OUTDOORS" }
