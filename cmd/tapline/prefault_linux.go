package main

import (
	"syscall"
	"unsafe"
)

// Memory before it is needed.
//
// A check of one system takes some tens of milliseconds and 2 or 3 MB, and the kernel
// supplies memory a page at a time, where it is first touched. In a virtual machine such
// a fault may take 15 us, so that all of them take as long as solving does; supplied in
// a row, a page takes 1 us. So what is left of the heap's first piece is asked for at
// the start, beside the reading of the files. A kernel older than 5.14 refuses, and
// nothing is lost.

const (
	heapPiece     = 4 << 20   // what the runtime maps at a time, aligned to its size
	atATime       = 128 << 10 // so that mapping more, elsewhere, need not wait for all of it
	populateWrite = 23        // MADV_POPULATE_WRITE
)

// prefault supplies the rest of the piece of the heap that is in use.
func prefault() error {
	var here byte // on a stack, and those are of the heap
	at := uintptr(unsafe.Pointer(&here)) &^ uintptr(syscall.Getpagesize()-1)
	for end := at&^(heapPiece-1) + heapPiece; at < end; at += atATime {
		if _, _, fault := syscall.Syscall(syscall.SYS_MADVISE, at, min(atATime, end-at), populateWrite); fault != 0 {
			return fault
		}
	}
	return nil
}
