package lang

import (
	"bytes"
	"os"
	"slices"
	"strings"
	"testing"

	"tapline/lang/quantity"
	"tapline/solver/fluid"
)

// TestReference compares REFERENCE.md with what the tables make of it; -update
// writes it.
func TestReference(t *testing.T) {
	got := reference(t)
	if *update {
		if err := os.WriteFile("REFERENCE.md", got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(got, mustRead(t, "REFERENCE.md")) {
		t.Error("REFERENCE.md is stale: run go test ./lang -run TestReference -update, and read the difference")
	}
}

func reference(t *testing.T) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := WriteReference(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// TestReferenceIsWhole looks for every row of both tables on the page, apart
// from how the page is put together.
func TestReferenceIsWhole(t *testing.T) {
	lines := strings.Split(string(reference(t)), "\n")
	section := func(heading string) []string {
		i := slices.Index(lines, heading)
		if i < 0 {
			t.Fatalf("no heading %q", heading)
		}
		rest := lines[i+1:]
		if j := slices.IndexFunc(rest, func(l string) bool { return strings.HasPrefix(l, "#") }); j >= 0 {
			rest = rest[:j]
		}
		return rest
	}
	seen := map[string]bool{}
	for _, l := range lines {
		if strings.HasPrefix(l, "#") && seen[l] {
			t.Errorf("two headings %q", l)
		}
		seen[l] = true
	}
	has := func(lines []string, prefix string) bool {
		return slices.ContainsFunc(lines, func(l string) bool { return strings.HasPrefix(l, prefix) })
	}
	shared, planned := section("### Shared attributes"), section("## Planned and not yet built")
	var check func(bt *BlockType, top bool)
	check = func(bt *BlockType, top bool) {
		if bt.NotBuilt && top {
			if !has(planned, "| "+bt.Kind+" ") {
				t.Errorf("the planned block %s is not listed", bt.Kind)
			}
			return
		}
		own := section("#### " + bt.Kind)
		text := strings.Join(own, " ")
		for _, a := range bt.Attributes {
			if has(own, "- `"+a.Name+"`: ") {
				continue
			}
			_, names, _ := strings.Cut(text, "Shared: ")
			if !strings.Contains(names, "`"+a.Name+"`") || !has(shared, "- `"+a.Name+"`: ") {
				t.Errorf("%s of %s is not explained", a.Name, bt.Kind)
			}
		}
		for _, n := range bt.Nested {
			check(n, false)
		}
	}
	for _, bt := range Schema() {
		check(bt, true)
	}
	for _, u := range quantity.Table() {
		for _, name := range append([]string{u.Name}, u.Also...) {
			if !slices.ContainsFunc(section("## Units"), func(l string) bool {
				cells := strings.Split(l, "|")
				return len(cells) > 2 && (strings.TrimSpace(cells[1]) == name || strings.Contains(cells[2], " "+name+" "))
			}) {
				t.Errorf("the unit %s is not listed", name)
			}
		}
	}
	for _, l := range lines {
		if n := len([]rune(l)); n > 120 {
			t.Errorf("a line of %d characters: %s", n, l)
		}
	}
}

// TestReferenceComponents sees to it that the names the page gives for examples
// are understood.
func TestReferenceComponents(t *testing.T) {
	for _, name := range []string{"C1", "nC4", "R717", "n-butane", "n butane", "carbon dioxide", "CH4"} {
		if _, ok := fluid.Name(name); !ok {
			t.Errorf("no component is called %s", name)
		}
	}
	for _, name := range fluid.Components() {
		if c, ok := fluid.About(name); !ok || !(c.MolarMass > 0) || c.Formula == "" {
			t.Errorf("nothing is known about %s", name)
		}
	}
	if same := fluid.Isomers("C4H10"); len(same) != 2 {
		t.Errorf("C4H10 is %v", same)
	}
}
