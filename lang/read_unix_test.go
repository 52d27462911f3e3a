//go:build unix

package lang

import (
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// TestReadPipe: a pipe or device is refused without being opened, which would
// wait for a writer.
func TestReadPipe(t *testing.T) {
	dir := write(t, map[string]string{"pipe/a.tap.hcl": tiny, "device/a.tap.hcl": tiny})
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe", "b.tap.hcl"), 0o644); err != nil {
		t.Skip("no pipes here: ", err)
	}
	link(t, "/dev/zero", filepath.Join(dir, "device", "b.tap.hcl"))
	done := make(chan string)
	go func() { done <- codesOf(filepath.Join(dir, "pipe")) + "; " + codesOf(filepath.Join(dir, "device")) }()
	select {
	case got := <-done:
		if want := "b.tap.hcl unreadable-file; b.tap.hcl outside-repository"; got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	case <-time.After(time.Minute):
		t.Fatal("waits for a writer")
	}
}
