package lang

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tapline/lang/diag"
)

const layered = `
system "layers" {
}
given {
  high = "0.45 barg"
  trim = 0.06
}
site { ambient = "10 degC" }
fluid "n2" {
  mole_percent = { nitrogen = 100 }
}
source "S" {
  fluid       = "n2"
  pressure    = "6 barg"
  temperature = "20 degC"
}
valve "V" {
  cv      = 0.04
  opening = "50 %"
  note    = "base"
}
holder "H" {
  cv           = given.trim
  accumulation = "0.1 bar"
  loading {
    dome = "3 barg"
    bias = "0.2 bar"
  }
}
vent "A" { pressure = given.high }
line "main" { path = "S -> V -> (P) -> tube(6 mm x 1 mm, 3 m) -> H -> A" }
case "one" {
  valve "V" {
    opening = "40 %"
    note    = "one"
  }
  vent "A" { pressure = "1 barg" }
}
case "two" {
  kind = "service"
  valve "V" { opening = "30 %" }
  holder "H" {
    loading {
      bias = "0.3 bar"
    }
  }
}
case "one then two" { after = ["one", "two"] }
case "two then one" { after = ["two", "one"] }
case "default" {
  after = ["one"]
  valve "V" { opening = null }
  site { ambient = null }
  vent "A" { pressure = given.high }
  tube "main~1" { length = "4 m" }
}
case "given" {
  after = ["default"]
  given {
    high = "0.7 barg"
    trim = "0.08"
  }
}
case "given restored" {
  after = ["given"]
  given { high = null }
}
`

// TestLayers resolves cases of one small system and looks single values up:
// KIND.TAG.ATTRIBUTE, with .loading between for the nested block.
func TestLayers(t *testing.T) {
	d, ds := ReadFiles("", map[string][]byte{"l.tap.hcl": []byte(layered)})
	report(t, ds)
	tests := []struct{ name, value, want string }{
		{"base", "valve.V.opening", "50 %"},
		{"base", "valve.V.state", "open (default)"},
		{"base", "vent.A.pressure", "0.45 barg"},
		{"base", "holder.H.cv", "0.06"},
		{"base", "holder.H.loading.bias", "0.2 bar"},
		{"base", "holder.H.loading.ratio", "1 (default)"},
		{"base", "site..ambient", "10 degC"},
		{"base", "tube.main~1.length", "3 m"},
		{"one", "valve.V.opening", "40 %"},
		{"one", "valve.V.cv", "0.04"},
		{"one", "vent.A.pressure", "1 barg"},
		{"two", "vent.A.pressure", "0.45 barg"},
		{"two", "holder.H.loading.bias", "0.3 bar"},
		{"two", "holder.H.loading.dome", "3 barg"},
		{"one then two", "valve.V.opening", "30 %"},
		{"one then two", "valve.V.note", "one"},
		{"one then two", "vent.A.pressure", "1 barg"},
		{"two then one", "valve.V.opening", "40 %"},
		{"two then one", "holder.H.loading.bias", "0.3 bar"},
		{"default", "valve.V.opening", "100 % (default)"},
		{"default", "valve.V.note", "one"},
		{"default", "site..ambient", "20 degC (default)"},
		{"default", "vent.A.pressure", "0.45 barg"},
		{"default", "tube.main~1.length", "4 m"},
		{"default", "tube.main~1.size", "6 mm x 1 mm"},
		{"given", "vent.A.pressure", "0.7 barg"},
		{"given", "holder.H.cv", "0.08"},
		{"given restored", "vent.A.pressure", "0.45 barg"},
		{"given restored", "holder.H.cv", "0.08"},
	}
	for _, tt := range tests {
		t.Run(tt.name+" "+tt.value, func(t *testing.T) {
			r, ds := d.Resolve(tt.name)
			report(t, ds)
			if got := lookup(r, tt.value); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
	for name, kind := range map[string]string{"base": "operating", "two": "service", "one then two": "operating"} {
		if r, _ := d.Resolve(name); r.Kind != kind {
			t.Errorf("kind of %s is %q, want %q", name, r.Kind, kind)
		}
	}
	if _, ds := d.Resolve("tow"); len(ds) != 1 || ds[0].Code != unknownCase || !strings.Contains(ds[0].Hint, "two") {
		t.Errorf("unknown case: %v", ds)
	}
}

func lookup(r *Resolved, value string) string {
	parts := strings.Split(value, ".")
	for _, b := range append(append([]*Block{r.Site}, r.Blocks...), r.Inline...) {
		if b.Kind != parts[0] || b.Tag != parts[1] {
			continue
		}
		for _, nested := range parts[2 : len(parts)-1] {
			b = b.Nested(nested)
		}
		v := b.Get(parts[len(parts)-1])
		if v == nil {
			return "nothing"
		}
		text := v.Text
		if v.Quantity != nil {
			text = v.Quantity.Text
		}
		if v.Default {
			text += " (default)"
		}
		return text
	}
	return "no block"
}

// TestResolveLeavesTheBase: what one case says is not seen in another.
func TestResolveLeavesTheBase(t *testing.T) {
	d, _ := ReadFiles("", map[string][]byte{"l.tap.hcl": []byte(layered)})
	before, _ := d.Resolve("base")
	was := lookup(before, "holder.H.loading.bias") + lookup(before, "valve.V.opening")
	for _, c := range d.Cases {
		d.Resolve(c.Name)
	}
	after, _ := d.Resolve("base")
	if now := lookup(after, "holder.H.loading.bias") + lookup(after, "valve.V.opening"); now != was {
		t.Errorf("base was %s and is %s", was, now)
	}
}

// TestLayersAsWritten compares the order of layers with the plain reading of
// the rule: each case is its after cases, laid on one after the other with all
// that these start from, and then itself.
func TestLayersAsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(t, "cases")
		var src strings.Builder
		after := make([][]int, n)
		opening := make([]int, n) // 0: says nothing
		src.WriteString("system \"s\" {\n}\nvalve \"V\" {\n  cv    = 1\n  spare = true\n}\n")
		for i := range n {
			fmt.Fprintf(&src, "case \"c%d\" {\n", i)
			if i > 0 {
				after[i] = rapid.SliceOfNDistinct(rapid.IntRange(0, i-1), 0, i, rapid.ID[int]).Draw(t, "after")
			}
			var names []string
			for _, a := range after[i] {
				names = append(names, fmt.Sprintf("%q", fmt.Sprintf("c%d", a)))
			}
			fmt.Fprintf(&src, "  after = [%s]\n", strings.Join(names, ", "))
			if opening[i] = rapid.IntRange(0, 90).Draw(t, "opening"); opening[i] > 0 {
				fmt.Fprintf(&src, "  valve \"V\" { opening = \"%d %%\" }\n", opening[i])
			}
			src.WriteString("}\n")
		}
		d, ds := ReadFiles("", map[string][]byte{"x.tap.hcl": []byte(src.String())})
		if diag.HasErrors(ds) {
			t.Fatalf("%v\n%s", ds, src.String())
		}
		var plain func(i, value int) int
		plain = func(i, value int) int {
			for _, a := range after[i] {
				value = plain(a, value)
			}
			if opening[i] > 0 {
				value = opening[i]
			}
			return value
		}
		for i := range n {
			r, _ := d.Resolve(fmt.Sprintf("c%d", i))
			want := fmt.Sprintf("%d %%", plain(i, 100))
			if got := strings.TrimSuffix(lookup(r, "valve.V.opening"), " (default)"); got != want {
				t.Fatalf("c%d: got %s, want %s\n%s", i, got, want, src.String())
			}
		}
	})
}

// TestDeepLayers resolves a ladder of cases, each starting from two that start
// from the same two: laid on one by one these would be 2^500 layers.
func TestDeepLayers(t *testing.T) {
	var src strings.Builder
	src.WriteString("system \"s\" {\n}\nvalve \"V\" {\n  cv    = 1\n  spare = true\n}\n")
	src.WriteString("case \"a0\" {\n  valve \"V\" { cv = 2 }\n}\ncase \"b0\" {\n  valve \"V\" { cv = 3 }\n}\n")
	const depth = 500
	for i := 1; i <= depth; i++ {
		for _, n := range "ab" {
			fmt.Fprintf(&src, "case \"%c%d\" { after = [\"a%d\", \"b%d\"] }\n", n, i, i-1, i-1)
		}
	}
	d, ds := ReadFiles("", map[string][]byte{"x.tap.hcl": []byte(src.String())})
	report(t, ds)
	r, ds := d.Resolve(fmt.Sprintf("a%d", depth))
	report(t, ds)
	if got := lookup(r, "valve.V.cv"); got != "3" {
		t.Errorf("cv is %s, want 3: b0 comes last", got)
	}
}
