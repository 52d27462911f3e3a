# A scenario of our own: names and spellings that are rare and allowed.
system "odd" {
}
fluid "n2" {
  mole_percent = { "nitrogen" = "99.5 %", oxygen = "5000 ppm" }
}
source "101-V" {
  fluid       = "n2"
  flow        = "60 NL/h"
  temperature = "20 degC"
}
valve "my valve" { cv = 1e-2 }
valve "Ventil Ü1" {
  kv   = "0.02 ± 10 %"
  note = <<-NOTE
    Several lines,
      with $${braces} and a \ backslash.
  NOTE
}
equipment "RX" {
  ports = ["feed", "product", "purge"]
}
vessel "KO" {
  volume = "0.5 L"
  ports  = ["in", "gas", "drain"]
}
filter "F" {
  cv     = 0.3
  fouled = "20 %"
}
vent ATM { pressure = "0 barg" }
line "a" {
  path = [
    "101-V -> 'my valve' -> RX.feed",
    "RX.product -> 'Ventil Ü1' -> F -> KO.in",
    "RX.purge -> tube(1/4 in x 0.035 in, 2 ft, 2 bends, rise -1 ft) -> KO.gas",
    "F.drain -> (TP-1) -> cap",
    "KO.drain -> tube T(6 mm x 1 mm, 1 m) -> ATM",
  ]
}
band "flow" {
  at   = ["my valve", "T"]
  flow = "> 10 NL/h"
}
band "pot" {
  at       = ["KO", "KO.gas", "101-V"]
  pressure = "<= 1 barg"
}
case "less" {
  tube "a~1" { rise = null }
  source "101-V" { flow = "30 NL/h" }
}
