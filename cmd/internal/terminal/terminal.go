// Package terminal tells what the output of a command goes to, and keeps the
// progress line of long work.
package terminal

import (
	"io"
	"os"
	"strconv"
)

// A Screen is what a stream is read on. The zero value is a file or a pipe.
type Screen struct {
	Terminal bool
	Colour   bool // a terminal whose user has not refused colours
	Columns  int  // 0 if not known
}

// Of looks at a stream. Colours are off unless it is a terminal, and off there
// too if NO_COLOR is set to anything (no-color.org) or TERM says the terminal
// is dumb. Where the system does not tell the width, COLUMNS may.
func Of(stream io.Writer, getenv func(string) string) Screen {
	var s Screen
	if f, ok := stream.(*os.File); ok {
		s.Columns, s.Terminal = size(f.Fd())
	}
	if s.Columns <= 0 {
		s.Columns, _ = strconv.Atoi(getenv("COLUMNS"))
	}
	if s.Columns < 0 || s.Columns > 10_000 {
		s.Columns = 0
	}
	s.Colour = s.Terminal && getenv("NO_COLOR") == "" && getenv("TERM") != "dumb" && colours(stream)
	return s
}
