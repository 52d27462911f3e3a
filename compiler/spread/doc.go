// Package spread solves the many cases of a spread and keeps what they come to.
//
// Cases are solved in chunks of compiler.SpreadChunk, whatever the number of
// processors or parts: the first of a chunk from nothing, each other from the one
// before. What is kept of a case is counts and the lowest and highest, each with the
// number of its case, a tie going to the lower number. These do not depend on the
// order in which they are put together, so a Tally is the same to the last bit
// however the chunks were spread over goroutines, machines and parts; and it does not
// grow with the number of cases.
//
//	t, err := spread.Solve(run, s, spread.Options{})
//	outcome, flags := t.Outcome(run, s), t.Flags(s)
package spread
