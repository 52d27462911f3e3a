// Package path reads the chains of a line, "A -> tube(6 mm x 1 mm, 3 m) -> (P1)",
// into their stops.
package path

// A Kind says what a stop is.
type Kind int

const (
	Device Kind = iota // a tag, with a port or without
	Label              // a node, (P1)
	Tube               // a tube written in place
	Cap                // the closed end after a label
)

// A Step is one stop of a path.
type Step struct {
	Kind       Kind
	Name       string   // tag as written with its panel, "R1/NV-2"; label without parentheses; a tube's own name or ""
	Port       string   // "out" in AE-11.out, else ""
	Tube       *TubeRun // Kind == Tube
	Start, End int      // byte offsets in the text
}

// A TubeRun is what stands in the parentheses of a tube.
type TubeRun struct {
	Args []Arg // in the order written
}

// An Arg is one argument of a tube. Name is "" for the size and the length,
// else "bends", "rise", "k" or "roughness"; Text is the value alone.
type Arg struct {
	Name       string
	Text       string
	Start, End int // byte offsets of Text in the path
}

// An Error says what is wrong with a path, where, and what to write instead.
// Start and End are byte offsets, End exclusive; End is greater than Start
// unless the text is empty.
type Error struct {
	Message    string
	Hint       string
	Start, End int
}

// Error gives the message alone.
func (e *Error) Error() string { return e.Message }

// Parse reads one path. The error is always an *Error.
func Parse(text string) ([]Step, error) {
	return nil, &Error{Message: "not yet read", End: len(text)}
}
