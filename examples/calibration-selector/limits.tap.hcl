band "cell" {
  at       = "AE-41.in"
  kinds    = ["operating", "service", "upset"]
  pressure = "0 .. 0.2 barg"
  flow     = "1 .. 4 slpm"
}
band "the sample alone is measured" {
  at    = "AE-41.in"
  kinds = ["operating", "upset"]
  share = { "SAMPLE" = ">= 99.99 %" }
}
band "zero gas alone" {
  at    = "AE-41.in"
  cases = ["zero"]
  share = { "ZERO" = ">= 99.99 %" }
}
band "span gas alone" {
  at    = "AE-41.in"
  cases = ["span"]
  share = { "SPAN" = ">= 99.99 %" }
}
band "lag" {
  at    = "AE-41"
  kinds = ["operating", "service"]
  lag   = "<= 10 s"
}
