package terminal

import (
	"io"
	"os"
	"syscall"
)

// size: a console has a mode. Its width is left to COLUMNS.
func size(fd uintptr) (columns int, terminal bool) {
	var mode uint32
	return 0, syscall.GetConsoleMode(syscall.Handle(fd), &mode) == nil
}

// colours tells whether the console takes the escapes of ECMA-48.
func colours(stream io.Writer) bool {
	const virtualTerminal = 0x4
	f, ok := stream.(*os.File)
	var mode uint32
	return ok && syscall.GetConsoleMode(syscall.Handle(f.Fd()), &mode) == nil && mode&virtualTerminal != 0
}
