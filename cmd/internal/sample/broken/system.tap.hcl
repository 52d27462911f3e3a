system "broken" {
  title = "A file with mistakes, for the tests of the printers"
}
source "HDR" {
  presure     = "6 barg"
  temperature = "40 degC"
}
valve "NV-1" { cv = 0.04 }
valve "NV-1" { cv = 0.02 }
reducer "PCV-1" {
	set   = "3.5 barq"	# a tab before and after
  droop = "0.3 barg"
  note  = "Druckminderer 減圧弁, 3.5 barq"
}
line "main" {
  path = <<-PATH
    HDR -> PCV-1 --> (P1)
    -> NV-1 -> ATM
  PATH
}
