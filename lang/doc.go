// Package lang reads the files of one system into a Description: typed values,
// each with the place it was written at.
//
//	d, ds := lang.Read("systems/grid-injection")
//	base, more := d.Resolve("base")
//
// The way of a file through this package:
//
//	bytes -> guard (whitelist) -> HCL syntax -> schema table -> Description -> name checks
//
// What each block and attribute may say stands in one table (schema.go and the
// schema_*.go files it is made of). Decoding, defaults, hints and any reference
// page read that table and nothing else.
//
// This package judges what can be judged from the text alone: spelling, units,
// allowed values, names that must exist, ports used twice. Whether the network
// makes sense (loops without resistance, what can be reached) is the compiler's.
//
// Nothing a file says makes this package panic, recurse without bound or
// allocate without bound; see limits.go for the bounds.
package lang
