//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package terminal

import (
	"io"
	"syscall"
	"unsafe"
)

// size asks a terminal for its columns; nothing else answers the question.
func size(fd uintptr) (columns int, terminal bool) {
	var window struct{ rows, columns, x, y uint16 }
	_, _, errno := syscall.Syscall(syscall.SYS_IOCTL, fd, syscall.TIOCGWINSZ, uintptr(unsafe.Pointer(&window)))
	return int(window.columns), errno == 0
}

// colours: every terminal but a dumb one knows the escapes of ECMA-48.
func colours(io.Writer) bool { return true }
