package lang

import (
	"strconv"
	"strings"

	"tapline/lang/diag"
	"tapline/lang/quantity"
)

// A Spread is many cases at once: every combination of the values that are
// written in it, or draws of all that has a tolerance, or the rows of a table.
// Its cases have numbers from 0 on and are never listed: each follows from its
// number alone, so that any of them can be made anywhere and again.
type Spread struct {
	Case             // what it lays over the layers before, its variables at some value
	Draws     int    // 0 where values are combined
	Seed      uint64 // of the draws
	Variables []*Variable

	rows []string // names of the cases of a table; nil for others
	at   []int32  // where they stand in it
}

// A Variable is one thing that a spread moves.
type Variable struct {
	// Label names it within its spread: the tag, with the attribute where the tag
	// alone would not do, or the name of a given value.
	Label string
	Range diag.Range // where its values are written
	Text  string     // its values as written
	// Values is how many it takes in turn; 0 for a draw, which is uniform from Low to
	// High.
	Values    int
	Low, High quantity.Quantity

	places []place
	key    uint64 // of a draw

	// Of a column of a table: its cells by case, and what they are made with.
	cells  []cell
	units  []quantity.Quantity
	others []*Value
	owner  *Block
}

// A place is where a variable stands in the blocks of a resolved case.
type place struct {
	site          bool
	block, inline int    // index into Resolved.Blocks or Inline, -1 for the other
	within        []int  // indices of the nested blocks, outermost first
	attribute     string // of the innermost block
	entry         int    // of a map, -1 for the attribute itself
	points        []quantity.Quantity
	low, high     quantity.Quantity // of a draw
}

// Cases is how many cases the spread has.
func (s *Spread) Cases() int {
	switch {
	case s.rows != nil:
		return len(s.rows)
	case s.Draws > 0:
		return s.Draws
	}
	n := 1
	for _, v := range s.Variables {
		n *= v.Values
	}
	return n
}

// CaseName gives the name of case i: "supply: GRID=16 barg FLARE=0.45 barg",
// "as built: draw 17", or that of a row.
func (s *Spread) CaseName(i int) string {
	switch {
	case s.rows != nil:
		return s.Name + ": " + s.rows[i]
	case s.Draws > 0:
		return s.Name + ": draw " + strconv.Itoa(i+1)
	}
	var b strings.Builder
	b.WriteString(s.Name + ":")
	for k, v := range s.Variables {
		b.WriteString(" " + v.Label + "=" + v.spelled(s.point(i, k)))
	}
	return b.String()
}

// point is which of its values variable k takes in case i; the last variable
// moves first.
func (s *Spread) point(i, k int) int {
	for j := len(s.Variables) - 1; j > k; j-- {
		i /= s.Variables[j].Values
	}
	return i % s.Variables[k].Values
}

func (v *Variable) spelled(i int) string {
	q := v.places[0].points[i]
	return strings.TrimSpace(q.Number + " " + q.Unit)
}

// FindCase gives the spread and the number of the case of a name as CaseName
// gives it; false where there is none.
func (d *Description) FindCase(name string) (s *Spread, i int, ok bool) {
	for _, s := range d.Spreads {
		if rest, is := strings.CutPrefix(name, s.Name+": "); is {
			if i, ok := s.find(rest); ok {
				return s, i, true
			}
		}
	}
	return nil, 0, false
}

// Spread gives the spread of that name, or nil.
func (d *Description) Spread(name string) *Spread {
	for _, s := range d.Spreads {
		if s.Name == name {
			return s
		}
	}
	return nil
}

func (s *Spread) find(rest string) (int, bool) {
	if s.rows != nil {
		for i, row := range s.rows {
			if row == rest {
				return i, true
			}
		}
		return 0, false
	}
	if s.Draws > 0 {
		digits, _ := strings.CutPrefix(rest, "draw ")
		n, err := strconv.Atoi(digits)
		return n - 1, err == nil && n >= 1 && n <= s.Draws && rest == "draw "+strconv.Itoa(n)
	}
	at := 0
	rest = " " + rest
	for _, v := range s.Variables {
		tail, is := strings.CutPrefix(rest, " "+v.Label+"=")
		if !is {
			return 0, false
		}
		found := -1
		for p := range v.Values {
			if t, is := strings.CutPrefix(tail, v.spelled(p)); is && (t == "" || t[0] == ' ') {
				found, rest = p, t
				break
			}
		}
		if found < 0 {
			return 0, false
		}
		at = at*v.Values + found
	}
	return at, rest == ""
}

// Of says what its cases are: "combinations", "draws" or "rows".
func (s *Spread) Of() string {
	switch {
	case s.rows != nil:
		return "rows"
	case s.Draws > 0:
		return "draws"
	}
	return "combinations"
}
