package terminal

import (
	"fmt"
	"io"
	"sync"
	"time"
)

const (
	patience = 500 * time.Millisecond // work shorter than this shows nothing
	pause    = 100 * time.Millisecond // between two lines
)

// A Progress is one line on a terminal that counts what is done. It shows only
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
	fmt.Fprintf(p.w, "\r\x1b[Ksolved %d of %d cases", done, total)
}

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
