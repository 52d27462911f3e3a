package lang

import "tapline/lang/diag"

// A Resolved is one case after all its layers are laid on one another. Blocks
// that no layer touches are shared with the description: do not change them.
type Resolved struct {
	Name, Kind string
	After      []string
	Site       *Block   // never nil; empty where the files hold none
	Blocks     []*Block // same order as Description.Blocks
	// Inline are the tubes written in place, in the order of lines, paths and
	// stops, with what the case says of them.
	Inline []*Block
}

// Resolve lays the layers of a case on one another: "base" or a case's name.
func (d *Description) Resolve(caseName string) (*Resolved, []diag.Diagnostic) {
	return &Resolved{Name: caseName}, nil
}
