// Package atomicfile replaces a file in one step: whoever reads it meanwhile
// finds the old content or the new, never half of one, also if the machine
// stops in between.
package atomicfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Write puts data in the named file. The data goes to a new file in the same
// folder, is brought to the disk and then takes the name; a link is followed
// and keeps pointing at its target. A name that stands for something other than
// a file, such as /dev/stdout, is written to directly. After an error the old
// file is as it was and nothing new is left behind.
func Write(name string, data []byte) (err error) {
	if target, err := filepath.EvalSymlinks(name); err == nil {
		name = target
	}
	mode := fs.FileMode(0o666) // less the user's mask
	info, err := os.Stat(name)
	switch {
	case err == nil && info.IsDir():
		return &fs.PathError{Op: "write", Path: name, Err: errors.New("is a folder")}
	case err == nil && !info.Mode().IsRegular():
		return os.WriteFile(name, data, mode)
	}
	f, err := create(name, mode)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(f.Name()))
		}
	}()
	if info != nil {
		err = f.Chmod(info.Mode().Perm())
	}
	if err == nil {
		_, err = f.Write(data)
	}
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}

// create makes a new file beside name. Its name begins with a dot and ends in
// none of the endings that anything looks for.
func create(name string, mode fs.FileMode) (*os.File, error) {
	dir, base := filepath.Split(name)
	for try := 0; ; try++ {
		f, err := os.OpenFile(filepath.Join(dir, fmt.Sprintf(".%s.%d-%d.tmp", base, os.Getpid(), try)), os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
		if !errors.Is(err, fs.ErrExist) || try == 100 {
			return f, err
		}
	}
}
