package lang

import (
	"path/filepath"
	"testing"

	"golang.org/x/tools/txtar"

	"tapline/lang/diag"
)

// FuzzReadFiles reads any text as the file of a system: it never panics, says
// the same thing twice, and every place lies in the file it names.
func FuzzReadFiles(f *testing.F) {
	for _, dir := range systems(f, "../testdata/contract", "testdata/valid") {
		names, _ := filepath.Glob(filepath.Join(dir, "*"+Extension))
		for _, name := range names {
			f.Add(mustRead(f, name))
		}
	}
	archives, _ := filepath.Glob("testdata/mistakes/*.txtar")
	for _, name := range archives {
		archive, err := txtar.ParseFile(name)
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range archive.Files {
			if filepath.Base(file.Name) != "want" {
				f.Add(file.Data)
			}
		}
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		files := map[string][]byte{"x.tap.hcl": src, "y.tap.hcl": []byte(layered)}
		d, ds := ReadFiles("", files)
		ds = append(ds, resolveAll(d, ds)...)
		checkPlaces(t, files, ds)
		again, es := ReadFiles("", files)
		es = append(es, resolveAll(again, es)...)
		if one, two := spell(ds, files), spell(es, files); one != two {
			t.Fatalf("first:\n%s\nthen:\n%s", one, two)
		}
	})
}

// FuzzCurveFile reads any bytes as the file of a measured curve: it never panics, says
// the same thing twice, every place lies in its file, and what is read is points.
func FuzzCurveFile(f *testing.F) {
	for _, seed := range []string{
		"flow [slpm], pressure [barg]\n0, 3.6\n60, 3.3\n", "\ufeff# rig\r\npressure bara, flow NL/h\r\n\r\n4,0\r\n3,1e2\r\n",
		"\"flow [L/min at 21.1 degC, 1.01325 bara]\",\"pressure (psig)\"\n0,\"60\"\n", "flow [x], pressure", "flow;pressure\n0;3,6\n",
		"flow [slpm],flow [slpm]\n", "flow [slpm], pressure [barg]\n-1, 3\n\"", "\xff", "a\x00", "flow [slpm], pressure [barg]\n1e999,.\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		files := map[string][]byte{"a.tap.hcl": []byte(curved("x.csv")), "x.csv": src}
		d, ds := ReadFiles("", files)
		checkPlaces(t, files, ds)
		_, es := ReadFiles("", files)
		if one, two := spell(ds, files), spell(es, files); one != two {
			t.Fatalf("first:\n%s\nthen:\n%s", one, two)
		}
		if len(ds) > 0 {
			return
		}
		points := d.Blocks[1].Nested("curve").Points()
		if len(points) < leastPoints || len(points) > mostPoints {
			t.Fatalf("%d points", len(points))
		}
		for _, p := range points {
			if q := p.List[0].Quantity; len(p.List) != 2 || !(q.Nominal.SI >= 0) || p.List[1].Quantity == nil {
				t.Fatalf("%+v", p)
			}
		}
	})
}

func resolveAll(d *Description, ds []diag.Diagnostic) []diag.Diagnostic {
	if diag.HasErrors(ds) {
		return nil
	}
	var out []diag.Diagnostic
	for _, name := range d.caseNames() {
		_, more := d.Resolve(name)
		out = append(out, more...)
	}
	for _, b := range d.Blocks {
		for _, a := range b.Type().Attributes {
			if v := b.Get(a.Name); v != nil {
				v.Within(0, len(v.Text))
			}
		}
	}
	return out
}

func checkPlaces(t *testing.T, files map[string][]byte, ds []diag.Diagnostic) {
	t.Helper()
	look := func(r diag.Range) {
		src, ok := files[r.File]
		if !ok || r.Start.Byte < 0 || r.End.Byte < r.Start.Byte || r.End.Byte > len(src) {
			t.Fatalf("no such place: %+v", r)
		}
		if want := newSource(r.File, src).position(r.Start.Byte); want != r.Start {
			t.Fatalf("place %+v, byte %d is at %+v", r.Start, r.Start.Byte, want)
		}
	}
	for _, d := range ds {
		if d.Message == "" || d.Code == "" || (d.Level == diag.Error) == (d.Code == normalised) {
			t.Fatalf("incomplete: %+v", d)
		}
		look(d.Range)
		for _, r := range d.Related {
			look(r.Range)
		}
	}
}
