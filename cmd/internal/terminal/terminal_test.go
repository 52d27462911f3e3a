package terminal

import (
	"bytes"
	"os"
	"testing"
	"time"
)

func TestFilesAreNoTerminals(t *testing.T) {
	file, err := os.Create(t.TempDir() + "/f")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	null, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer null.Close()
	for _, w := range []*os.File{file, null} {
		if got := Of(w, func(string) string { return "" }); got != (Screen{}) {
			t.Errorf("%s: %+v", w.Name(), got)
		}
	}
	for value, want := range map[string]int{"160": 160, "-3": 0, "x": 0, "99999999999": 0, "": 0} {
		if got := Of(&bytes.Buffer{}, func(string) string { return value }); got != (Screen{Columns: want}) {
			t.Errorf("COLUMNS=%q: %+v", value, got)
		}
	}
}

func TestProgress(t *testing.T) {
	var out bytes.Buffer
	at := time.Unix(0, 0)
	clock := func() time.Time { return at }
	p := NewProgress(&out, Screen{Terminal: true}, false, clock)
	for i := range 10 {
		p.Step(i, 10)
		at = at.Add(90 * time.Millisecond)
	}
	p.Done()
	p.Step(10, 10)
	want := "\r\x1b[K[##############..........] solved 6 of 10 cases\r\x1b[K[###################.....] solved 8 of 10 cases\r\x1b[K"
	if out.String() != want {
		t.Errorf("got %q, want %q", out.String(), want)
	}

	out.Reset()
	quick := NewProgress(&out, Screen{Terminal: true}, false, clock)
	quick.Step(1, 1)
	quick.Done()
	for _, none := range []*Progress{NewProgress(&out, Screen{}, false, clock), NewProgress(&out, Screen{Terminal: true}, true, clock)} {
		at = at.Add(time.Hour)
		none.Step(1, 2)
		none.Done()
	}
	if out.Len() > 0 {
		t.Errorf("quick work or a pipe shows %q", out.String())
	}
}
