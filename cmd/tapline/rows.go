package main

import (
	"bufio"
	"encoding/csv"
	"math"
	"strconv"
	"strings"

	"tapline/cmd/internal/atomicfile"
	"tapline/compiler"
)

// A rowFile is a CSV file with a row for each case of a spread, written as the cases
// come: nothing of it is kept.
type rowFile struct {
	file *atomicfile.File
	text *bufio.Writer
	csv  *csv.Writer
	used bool
	err  error
}

// openRows begins a file of rows.
func openRows(name string) (*rowFile, error) {
	f, err := atomicfile.Create(name)
	if err != nil {
		return nil, usagef("cannot write the csv file: %v", err)
	}
	r := &rowFile{file: f, text: bufio.NewWriterSize(f, 1<<16)}
	r.csv = csv.NewWriter(r.text)
	return r, nil
}

// fits sees to it that a file of rows has the cases of one spread in it, whose names
// become its head.
func (r *rowFile) fits(run *compiler.Run) error {
	if r == nil {
		return nil
	}
	if len(run.Spreads) != 1 || r.used {
		return usagef("--out csv=FILE takes the cases of one spread; name it with --case, or name a file with --cases-csv")
	}
	r.used = true
	v, _ := run.Vary(run.Spreads[0])
	r.write(append([]string{"case", "status", "flagged"}, v.Columns()...))
	return nil
}

// each takes the rows of a chunk; nil where there is no file.
func (r *rowFile) each() func(int, []compiler.Row) {
	if r == nil {
		return nil
	}
	return func(_ int, rows []compiler.Row) {
		var cells []string
		for _, row := range rows {
			status := "solved"
			if !row.Solved {
				status = "unsolved"
			}
			cells = append(cells[:0], row.Case, status, strings.Join(row.Flagged, " "))
			for _, x := range row.Numbers {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					cells = append(cells, "")
					continue
				}
				cells = append(cells, strconv.FormatFloat(x, 'g', -1, 64))
			}
			r.write(cells)
		}
	}
}

func (r *rowFile) write(cells []string) {
	if err := r.csv.Write(cells); err != nil && r.err == nil {
		r.err = err
	}
}

// close ends the file, which takes its name if all went well, or takes it away.
func (r *rowFile) close(well bool) error {
	if r == nil {
		return nil
	}
	if r.csv.Flush(); r.err == nil {
		r.err = r.csv.Error()
	}
	if err := r.text.Flush(); r.err == nil {
		r.err = err
	}
	if !well || !r.used || r.err != nil {
		r.file.Discard()
	} else {
		r.err = r.file.Commit()
	}
	if r.err != nil {
		return usagef("cannot write the csv file: %v", r.err)
	}
	return nil
}
