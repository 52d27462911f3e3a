package fluid

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"
)

const dataDir = "../../testdata/fluid/"

// row is one line of a CSV file by column name.
type row map[string]string

func (r row) num(t *testing.T, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s: %v", column, err)
	}
	return v
}

func readCSV(t *testing.T, name string) []row {
	t.Helper()
	f, err := os.Open(dataDir + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, line := range lines[1:] {
		r := row{}
		for i, column := range lines[0] {
			r[column] = line[i]
		}
		rows = append(rows, r)
	}
	if len(rows) == 0 {
		t.Fatalf("%s has no rows", name)
	}
	return rows
}

func mustNew(t testing.TB, x map[string]float64) *Mixture {
	t.Helper()
	m, err := New(x)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func pureOf(t testing.TB, name string) *Mixture {
	t.Helper()
	return mustNew(t, map[string]float64{name: 1})
}

// compositions reads the mole fractions of the mixtures of one file, by name.
func compositions(t *testing.T, file, nameColumn string) map[string]*Mixture {
	t.Helper()
	all := map[string]*Mixture{}
	for _, r := range readCSV(t, file) {
		x := map[string]float64{}
		for column, value := range r {
			if v, err := strconv.ParseFloat(value, 64); err == nil && column != nameColumn && v > 0 {
				x[column] = v
			}
		}
		all[r[nameColumn]] = mustNew(t, x)
	}
	return all
}

// A pair of the binary file is 0.4 of the first and 0.6 of the second.
func pairOf(t *testing.T, names string) *Mixture {
	t.Helper()
	a, b, two := strings.Cut(names, "+")
	if !two {
		return pureOf(t, a)
	}
	return mustNew(t, map[string]float64{a: 0.4, b: 0.6})
}
