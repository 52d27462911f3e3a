package main

import "tapline/compiler"

// An engine reads, compiles, solves and judges system folders. The command uses
// the compiler; its tests put outcomes made by hand in the place of it. The
// error is that of an argument which cannot be used (a case that no system has,
// a setting that does not exist); what is wrong in the files is in the flags.
type engine func(dirs []string, opt engineOptions) (*solution, error)

type engineOptions struct {
	Progress func(done, total int) // may be called from several goroutines
	Sets     []string              // settings to override, "vent.FLARE.pressure=0.6 barg"
	Cases    []string              // solve these cases only; all of them if empty
	// MostInSpreads leaves spreads out where a system's have more cases together; 0 for no
	// bound.
	MostInSpreads int
	Table         string   // a file of further cases, which are then solved in place of the others
	Share         share    // solve this part of the spreads only, and fill solution.Parts
	Joined        *joined  // take the spreads from parts in place of solving them
	Rows          *rowFile // write a row for each case of the spread; nil for none
	Network       bool     // fill solution.Network
	Trace         bool     // say how every case was solved
	Curve         string   // fill solution.Curve for the device of this tag
}

type solution struct {
	Outcome *compiler.Outcome
	Parts   []partSystem
	Network any // the compiled networks as they print in JSON
	// Faults are those of the program itself, one sentence a folder that it could not
	// finish; the others are in Outcome.
	Faults []string
	// Curve is that of the device asked for, with the band on its held pressure [Pa],
	// NaN where it has no end; nil where the system was not solved.
	Curve               *compiler.FlowCurve
	CurveLow, CurveHigh float64
}
