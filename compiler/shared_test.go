package compiler

import (
	"fmt"
	"sync"
	"testing"

	"tapline/lang"
	"tapline/solver/fluid"
)

// The fluids of two systems are one where their compositions are, whoever asks
// first; what cannot be made is not kept, and no more than so many are.
func TestSharedFluids(t *testing.T) {
	recipeFor := func(methane string) (*recipe, *reader) {
		t.Helper()
		d, ds := lang.ReadFiles("s", map[string][]byte{"s.tap.hcl": []byte(
			"system \"s\" {}\nfluid \"g\" {\n  mole_percent = { methane = " + methane + ", nitrogen = \"rest\" }\n}\n")})
		r := &reader{}
		for _, b := range d.Blocks {
			if b.Kind == "fluid" {
				if c, ok := recipeOf(b, r); ok {
					return &c, r
				}
			}
		}
		t.Fatal("no fluid", ds)
		return nil, nil
	}
	shared := &Fluids{}
	var group sync.WaitGroup
	got := make([]fluid.Composed, 16)
	for i := range got {
		c, r := recipeFor(fmt.Sprint(90 + i%2))
		group.Go(func() { got[i] = shared.get(c, r) })
	}
	group.Wait()
	for i := range got {
		if got[i] == nil || got[i] != got[i%2] || got[0] == got[1] {
			t.Fatalf("fluid %d is %v, the first are %v", i, got[i], got[:2])
		}
	}
	for i := range maxShared + 10 {
		c, r := recipeFor(fmt.Sprintf("50.%03d", i))
		if shared.get(c, r) == nil {
			t.Fatal("no fluid")
		}
	}
	if len(shared.made) != maxShared {
		t.Errorf("%d are kept", len(shared.made))
	}
	c, r := recipeFor("90")
	if (*Fluids)(nil).get(c, r) == got[0] || shared.get(c, r) != got[0] {
		t.Error("a fluid of one's own is shared, or a shared one made anew")
	}
}
