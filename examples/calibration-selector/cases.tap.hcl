case "zero" {
  kind = "service"
  multiway "XV-41" { position = "calibrate" }
  multiway "XV-42" { position = "zero" }
}
case "span" {
  kind = "service"
  multiway "XV-41" { position = "calibrate" }
  multiway "XV-42" { position = "span" }
}

# Without air while calibrating, both go back.
case "no air" {
  kind  = "upset"
  after = ["span"]
  multiway "XV-41" { fault = "fails" }
  multiway "XV-42" { fault = "fails" }
}

# One seat leaks, then the other: neither reaches the cell.
case "XV-42 leaks" {
  kind = "upset"
  multiway "XV-42" {
    fault   = "seat leak"
    leak_cv = 0.0001
  }
}
case "XV-41 leaks" {
  kind = "upset"
  multiway "XV-41" {
    fault   = "seat leak"
    leak_cv = 0.0001
  }
}
