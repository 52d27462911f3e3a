package main

import (
	"errors"
	"syscall"
	"testing"
)

// What is asked for is memory that is mapped, and for writing.
func TestPrefault(t *testing.T) {
	switch err := prefault(); {
	case errors.Is(err, syscall.EINVAL):
		t.Skip("this kernel cannot")
	case err != nil:
		t.Error(err)
	}
}
