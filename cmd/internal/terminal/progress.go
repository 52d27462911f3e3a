package terminal

import (
	"fmt"
	"io"
	"strings"
	"sync"
	"time"
)

const (
	patience = 500 * time.Millisecond // work shorter than this shows nothing
	pause    = 100 * time.Millisecond // between two lines
)

// A Progress is one line on a terminal, a bar and numbers, that counts what is done. It shows only
// once work has lasted half a second, and Done takes it away. Its methods may
// be called from several goroutines. A nil Progress shows nothing.
type Progress struct {
	mu    sync.Mutex
	w     io.Writer
	now   func() time.Time
	next  time.Time // when to write again
	shown bool
	over  bool
}

// NewProgress starts counting time. Where screen is no terminal, or a dumb one
// that cannot take a line back, the result is nil.
func NewProgress(w io.Writer, screen Screen, dumb bool, now func() time.Time) *Progress {
	if !screen.Terminal || dumb {
		return nil
	}
	return &Progress{w: w, now: now, next: now().Add(patience)}
}

// Step tells that done of total cases are solved.
func (p *Progress) Step(done, total int) {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.now()
	if p.over || now.Before(p.next) {
		return
	}
	p.next, p.shown = now.Add(pause), true
	full := 0
	if total > 0 {
		full = min(done, total) * barColumns / total
	}
	bar := strings.Repeat("#", full) + strings.Repeat(".", barColumns-full)
	fmt.Fprintf(p.w, "\r\x1b[K[%s] solved %d of %d cases", bar, done, total)
}

// barColumns is how long the bar is: with the numbers it fits 80 columns.
const barColumns = 24

// Done erases the line. Nothing is shown after.
func (p *Progress) Done() {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.over = true
	if p.shown {
		p.shown = false
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}
