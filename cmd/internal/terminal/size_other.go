//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly || windows)

package terminal

import "io"

// size: where there is no way to ask, everything is a file.
func size(uintptr) (columns int, terminal bool) { return 0, false }

func colours(io.Writer) bool { return false }
