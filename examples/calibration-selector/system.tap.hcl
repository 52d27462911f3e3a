# A cell with zero and span gas behind two multiway valves: a scenario of our own.
# Every value in this folder is invented; none describes a part on sale.
system "calibration-selector" {
  title = "Analyzer cell with zero and span gas, blocked and bled"
}

site {
  elevation       = "120 m"
  ambient         = "20 degC"
  reference_state = "15 degC, 101.325 kPaa"
  shown_in        = { pressure = "barg", gas_flow = "slpm", temperature = "degC" }
}

fluid "process" {
  mole_percent = { nitrogen = "rest", carbon_dioxide = 12, oxygen = 3 }
}
fluid "zero" {
  mole_percent = { nitrogen = 100 }
}
fluid "span" {
  mole_percent = { nitrogen = "rest", carbon_dioxide = 20 }
}

source "SAMPLE" {
  fluid       = "process"
  pressure    = "0.9 barg"
  temperature = "20 degC"
  service     = "sample, reduced and dried outside of this system"
}
source "ZERO" {
  fluid       = "zero"
  pressure    = "1 barg"
  temperature = "20 degC"
  service     = "cylinder with its own reducer"
}
source "SPAN" {
  fluid       = "span"
  pressure    = "1 barg"
  temperature = "20 degC"
  service     = "cylinder with its own reducer"
}
vent "VENT" {
  pressure = "0 barg"
  service  = "to the roof; asphyxiant"
}

# What is to be measured comes to XV-41; XV-42 before it chooses the calibration gas.
line "sample" { path = "SAMPLE -> V-41 -> F-41 -> XV-41.sample" }
line "calibration gas" { path = ["ZERO -> XV-42.zero", "SPAN -> XV-42.span", "XV-42.out -> (PI-42) -> XV-41.cal"] }
line "bleed" { path = "XV-42.bleed -> VENT" }
line "cell" { path = "XV-41.cell -> NV-41 -> FI-41 -> (PI-41) -> AE-41 -> VENT" }
