// Package path reads the chains of a line into their stops:
//
//	GRID -> V-10 -> PCV-11 -> (P1) -> tube(6 mm x 1 mm, 32 m, 4 bends) -> AE-11.in
//
// It knows how a path is written, not what the names stand for: whether a tag
// exists, which ports it has and what a tube's arguments mean is decided by
// whoever reads the whole file. The arguments of a tube come out as text with
// their places.
//
// The grammar stands in grammar.go. It does not recurse, and texts are limited
// to MaxLength bytes and MaxStops stops.
package path

// Limits on one path.
const (
	MaxLength = 20_000 // bytes
	MaxStops  = 2_000
)

// A Kind says what a stop is.
type Kind int

const (
	Device Kind = iota // a tag, with a port or without
	Label              // a node of the network, "(P1)"
	Tube               // a tube written in place
	Cap                // the closed end behind a label
)

// String names the kind for messages.
func (k Kind) String() string {
	switch k {
	case Device:
		return "device"
	case Label:
		return "label"
	case Tube:
		return "tube"
	case Cap:
		return "cap"
	}
	return "unknown stop"
}

// A Step is one stop of a path.
type Step struct {
	Kind       Kind
	Name       string   // tag as written with its panel, "R1/NV-2"; label without parentheses; a tube's own name or ""; no quotes
	Port       string   // "out" in AE-11.out, else ""
	Tube       *TubeRun // for Kind Tube
	Start, End int      // byte offsets in the text, End exclusive
}

// A TubeRun is what stands in the parentheses of a tube.
type TubeRun struct {
	Args []Arg // in the order written, at least one
}

// An Arg is one argument of a tube. Name is "" for the size and the length
// (at most two), else "bends", "rise", "k" or "roughness" (each at most once);
// Text is the value alone: "6 mm x 1 mm", "32 m", "4", "2 m".
type Arg struct {
	Name       string
	Text       string
	Start, End int // byte offsets of Text, End exclusive
}

// An Error says what is wrong with a path, where, and what to write instead.
// Start and End are byte offsets, End exclusive; End is greater than Start
// unless the text is empty.
type Error struct {
	Message    string
	Hint       string // may be empty
	Start, End int
}

// Error gives the message alone.
func (e *Error) Error() string { return e.Message }
