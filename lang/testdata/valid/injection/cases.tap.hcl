case "winter" {
  site { ambient = "-18 degC" }
}
case "flare header high" {
  after = ["winter"]
  vent "FLARE" { pressure = given.flare_high }
}
case "flare header higher" {
  after = ["flare header high"]
  given { flare_high = "0.6 barg" }
}
case "sample line replaced" {
  tube "sample~1" { length = "12 m" }
  tube "T-9" { bends = 2 }
}
case "reducer stuck open" {
  kind = "upset"
  reducer "PCV-11" { fault = "wide open" }
}
case "seat leaks" {
  kind = "upset"
  reducer "PCV-11" {
    fault = "seat leak"
    leak  = "5 NmL/min at 10 bar"
  }
}
case "spring instead of dome" {
  holder "BPH-11" {
    loading {
      dome = null
      set  = "1.1 barg"
    }
  }
}
