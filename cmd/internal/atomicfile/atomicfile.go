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
func Write(name string, data []byte) error {
	f, err := Create(name)
	if err != nil {
		return err
	}
	if _, err := f.Write(data); err != nil {
		return errors.Join(err, f.Discard())
	}
	return f.Commit()
}

// A File is Write a piece at a time: the named file is as it was until Commit.
type File struct {
	*os.File
	name   string
	direct bool // there is no new file: the name stands for something else
}

// Create begins to replace the named file.
func Create(name string) (*File, error) {
	if target, err := filepath.EvalSymlinks(name); err == nil {
		name = target
	}
	const mode = fs.FileMode(0o666) // less the user's mask
	info, err := os.Stat(name)
	switch {
	case err == nil && info.IsDir():
		return nil, &fs.PathError{Op: "write", Path: name, Err: errors.New("is a folder")}
	case err == nil && !info.Mode().IsRegular():
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_TRUNC, mode)
		return &File{f, name, true}, err
	}
	f, err := create(name, mode)
	if err != nil {
		return nil, err
	}
	out := &File{f, name, false}
	if info != nil {
		if err := f.Chmod(info.Mode().Perm()); err != nil {
			return nil, errors.Join(err, out.Discard())
		}
	}
	return out, nil
}

// Commit brings what was written to the disk and gives it the name.
func (f *File) Commit() error {
	if f.direct {
		return f.Close()
	}
	if err := errors.Join(f.Sync(), f.Close()); err != nil {
		return errors.Join(err, os.Remove(f.File.Name()))
	}
	return os.Rename(f.File.Name(), f.name)
}

// Discard leaves the named file as it was.
func (f *File) Discard() error {
	if f.direct {
		return f.Close()
	}
	return errors.Join(f.Close(), os.Remove(f.File.Name()))
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
