package lang

import (
	"bytes"
	"os"
	"regexp"
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

// TestReferenceComponents sees to it that the gas model knows the components
// that the page names.
func TestReferenceComponents(t *testing.T) {
	_, list, ok := strings.Cut(valuesText, "by these names:")
	if !ok {
		t.Fatal("the list of components is gone")
	}
	names := regexp.MustCompile("`([a-z_]+)`").FindAllStringSubmatch(list, -1)
	if len(names) == 0 {
		t.Fatal("no components are named")
	}
	for _, n := range names {
		if !slices.Contains(fluid.Components(), n[1]) {
			t.Errorf("the gas model knows no %s", n[1])
		}
	}
}

// TestReferenceValues reads the examples of forms of values on the page.
func TestReferenceValues(t *testing.T) {
	for _, line := range strings.Split(valuesText, "\n") {
		cells := strings.Split(line, "|")
		if len(cells) != 4 {
			continue
		}
		i := slices.IndexFunc(formWords, func(w struct {
			form quantity.Form
			name string
		}) bool {
			return w.name == strings.TrimSpace(cells[1])
		})
		if i < 0 {
			continue // the heading
		}
		examples := regexp.MustCompile("`\"([^`]+)\"`").FindAllStringSubmatch(cells[2], -1)
		if len(examples) == 0 {
			t.Errorf("no example of the form %s", formWords[i].name)
		}
		for _, e := range examples {
			fits := false
			for d := quantity.Pressure; d <= quantity.Density; d++ {
				v, err := quantity.Parse(e[1], d, formWords[i].form)
				fits = fits || err == nil && v.Form == formWords[i].form
			}
			if !fits {
				t.Errorf("%q is no %s", e[1], formWords[i].name)
			}
		}
	}
}
