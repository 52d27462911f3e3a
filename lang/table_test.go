package lang

import (
	"fmt"
	"strings"
	"testing"

	"tapline/lang/diag"
	"tapline/lang/quantity"
)

func benchOnly(t testing.TB) *Description {
	d, found := ReadFiles("", map[string][]byte{"a.tap.hcl": []byte(bench)})
	if diag.HasErrors(found) {
		t.Fatal(found)
	}
	return d
}

// What each case of a table says is what is in its line, and what the files say where
// a cell is empty, whatever the case before was.
func TestTable(t *testing.T) {
	d, found := benchOnly(t).WithTable("logs/day.csv", []byte("\ufeff"+`name,SRC.pressure,ATM.pressure [mbarg],R.set,site.ambient,T-1.length,R.fault
"first, early",5 barg,120,,-5 degC,,
second,,,3.2 barg,,10 m,wide open
third,6.5 bara,0,"3 barg",,,
`))
	if len(found) > 0 {
		t.Fatal(found)
	}
	s := d.Spreads[0]
	if s.Name != "day.csv" || s.Cases() != 3 || s.CaseName(0) != "day.csv: first, early" || s.Of() != "rows" {
		t.Errorf("%q of %d cases, the first %q", s.Name, s.Cases(), s.CaseName(0))
	}
	m, _ := d.Move(s)
	want := []string{
		"500000 true, 12000 mbarg, 300000, 268.15, 3, ",
		"600000 true, 0 barg, 320000, 293.15, 10, wide open",
		"650000 false, 0 mbarg, 300000, 293.15, 3, ",
	}
	first := m
	for n, i := range []int{0, 1, 2, 1, 0, 2, 0} {
		if m = first; n%2 == 1 {
			m = first.Copy()
		}
		m.Set(i)
		p, v := m.block("source", "SRC").Get("pressure").Quantity.Nominal, m.block("vent", "ATM").Get("pressure")
		r := m.block("reducer", "R")
		fault := ""
		if f := r.Get("fault"); f != nil {
			fault = f.Text
		}
		got := fmt.Sprintf("%g %v, %g %s, %g, %g, %g, %s", p.SI, p.Basis == quantity.Gauge, v.Quantity.Nominal.SI, v.Quantity.Nominal.Unit,
			r.Get("set").Quantity.Nominal.SI, m.Site.Get("ambient").Quantity.Nominal.SI, m.Inline[0].Get("length").Quantity.Nominal.SI, fault)
		if w := want[i]; got != w {
			t.Errorf("case %d: got %s, want %s", i, got, w)
		}
	}
	if _, i, ok := d.FindCase("day.csv: third"); !ok || i != 2 {
		t.Errorf("third is case %d, %v", i, ok)
	}
}

// Mistakes are told at the very characters.
func TestTableMistakes(t *testing.T) {
	long := "name,SRC.pressure\n" + strings.Repeat("a,6 bar\n", 1000)
	for _, tc := range []struct{ text, want string }{
		{"", "1:1 bad-table the table is empty"},
		{"name\na\n", "1:1 bad-table the table names cases"},
		{"name,SRC.pressure\n", "1:1 bad-table the table holds no case"},
		{"case,SRC.pressure\na,6 barg\n", `1:1 bad-table the first column is headed "name"`},
		{"name;SRC.pressure\na;6 barg\n", `1:1 bad-table the first column is headed "name"`},
		{"name,pressure\na,6 barg\n", "1:6 bad-table a head is a tag"},
		{"name,SRC.presure\na,6 barg\n", "1:6 unknown-attribute"},
		{"name,SCR.pressure\na,6 barg\n", "1:6 unknown-tag"},
		{"name,R.loading.dome\na,6 barg\n", "1:6 unknown-block"},
		{"name,gas.mole_percent\na,6 barg\n", "1:6 unknown-tag"},
		{"name,R.data\na,x\n", "1:6 not-overridable"},
		{"name,site.reference_state\na,x\n", "1:6 not-overridable"},
		{"name,SRC.pressure,SRC.pressure\na,6 barg,6 barg\n", "1:19 repeated-key"},
		{"name,SRC.pressure\na,6 bar\n", "2:5 gauge-or-absolute"},
		{"name,SRC.pressure [bar]\na,6\n", "2:3 gauge-or-absolute"},
		{"name,SRC.pressure\na, -6 bara\n", "2:4 bad-value"},
		{"name,SRC.pressure\na,6 barg\na,7 barg\n", "3:1 repeated-name"},
		{"name,SRC.pressure\n,6 barg\n", "2:1 bad-name"},
		{"name,SRC.pressure\na,6 barg,7\n", "2:1 bad-table this line has more or fewer cells"},
		{"name,SRC.pressure\na,6 \"barg\n", "2:5 bad-table a quote stands"},
		{"name,SRC.pressure\n\xff,6 barg\n", "1:1 bad-table the table is not in UTF-8"},
		{"name,R.fault\na,seat leak\n", "2:3 missing-attribute a seat leak needs its size"},
		{"name,SRC.flow\na,1 kg/h\n", "2:1 conflicting-attributes"},
		{"name,R.fault\na,bend\n", "2:3 unknown-choice"},
		{"name,SRC.fluid\na,water\n", "2:3 unknown-fluid"},
		{long, "2:5 gauge-or-absolute"},
	} {
		_, found := benchOnly(t).WithTable("t.csv", []byte(tc.text))
		if len(found) == 0 || len(found) > maxMistakes+1 {
			t.Errorf("%.60q: %d mistakes", tc.text, len(found))
			continue
		}
		f := found[0]
		for _, g := range found {
			if g.Code == strings.Fields(tc.want)[1] {
				f = g
				break
			}
		}
		if f.Code == conflict { // told at the attribute, in the head
			continue
		}
		if got := fmt.Sprintf("%d:%d %s %s", f.Range.Start.Line, f.Range.Start.Column, f.Code, f.Message); !strings.HasPrefix(got, tc.want) || f.Range.File != "t.csv" {
			t.Errorf("%.60q: got %s, want %s", tc.text, got, tc.want)
		}
	}
}

// FuzzTable reads any text as a table: it never panics, every place lies in the file,
// and each of its cases can be moved to and found.
func FuzzTable(f *testing.F) {
	for _, text := range []string{
		"name,SRC.pressure,R.fault\na,6 barg,\nb,,wide open\n", "name,SRC.pressure [barg]\n\"a\nb\",6\n", "name,T-1.length\na,\"3\"\" m\"\n", "\ufeffname,site.ambient\r\na,3 degC\r\n",
	} {
		f.Add([]byte(text))
	}
	d := benchOnly(f)
	f.Fuzz(func(t *testing.T, src []byte) {
		out, found := d.WithTable("t.csv", src)
		checkPlaces(t, map[string][]byte{"t.csv": src, "a.tap.hcl": []byte(bench)}, found)
		if diag.HasErrors(found) {
			return
		}
		s := out.Spreads[0]
		m, more := out.Move(s)
		if diag.HasErrors(more) {
			t.Fatal(more)
		}
		for i := range s.Cases() {
			m.Set(i)
			if _, k, ok := out.FindCase(s.CaseName(i)); !ok || k != i {
				t.Fatalf("case %q is not found", s.CaseName(i))
			}
		}
	})
}
