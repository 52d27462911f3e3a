package lang

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"

	"tapline/lang/diag"
)

// Extension is what the name of a file of a system ends in.
const Extension = ".tap.hcl"

// Read reads the files of a folder whose names end in Extension; hidden ones
// (a leading dot) are left alone, folders inside are not entered. Only regular
// files are opened, and symbolic links only where they stay inside the
// repository, or inside the folder where there is none.
//
// The description is never nil; it is fit for use only where no diagnostic is
// an error. Diagnostics come sorted by file and place, files named with forward
// slashes, relative to the working folder where they are below it.
func Read(dir string) (*Description, []diag.Diagnostic) {
	found := newCollector()
	shown := shownDir(dir)
	files, open := readFolder(dir, shown, found)
	if len(found.list) > 0 {
		return &Description{Dir: filepath.ToSlash(dir), Givens: map[string]*Value{}}, found.result()
	}
	d := readFiles(filepath.ToSlash(dir), shown, files, open, found)
	return d, found.result()
}

// shownDir is the folder as ranges name it.
func shownDir(dir string) string {
	clean := filepath.Clean(dir)
	if filepath.IsAbs(clean) {
		if wd, err := os.Getwd(); err == nil {
			if rel, err := filepath.Rel(wd, clean); err == nil && filepath.IsLocal(rel) {
				clean = rel
			}
		}
	}
	return filepath.ToSlash(clean)
}

// readFolder gives the bytes of the folder's files by name, and what opens those of
// curves.
func readFolder(dir, shown string, found *collector) (map[string][]byte, opener) {
	here := diag.Range{File: shown, Start: fileStart, End: fileStart}
	real, err := filepath.EvalSymlinks(dir)
	if err != nil {
		found.errorf(unreadableFile, here, "", "%s", reason(err))
		return nil, nil
	}
	if real, err = filepath.Abs(real); err != nil {
		found.errorf(unreadableFile, here, "", "%s", reason(err))
		return nil, nil
	}
	entries, err := systemFiles(real)
	if err != nil {
		if errors.Is(err, errTooMany) {
			found.errorf(tooLarge, here, "split it into several systems", "the folder holds more than %d files", maxFiles)
		} else {
			found.errorf(unreadableFile, here, "name the folder that holds the files", "%s", reason(err))
		}
		return nil, nil
	}
	root := sync.OnceValue(func() string { return repository(real) })
	files := make(map[string][]byte, len(entries))
	total := 0
	for _, e := range entries {
		name := e.Name()
		at := diag.Range{File: path.Join(shown, name), Start: fileStart, End: fileStart}
		full := filepath.Join(real, name)
		var src []byte
		code := unreadableFile
		switch {
		case e.Type()&fs.ModeSymlink != 0:
			src, code, err = readFile(full, root())
		case !e.Type().IsRegular():
			err = errNotRegular
		default:
			src, err = readRegular(full) // no link is on the way to it
		}
		if err != nil {
			found.errorf(code, at, "", "%s", reason(err))
			continue
		}
		if total += len(src); total > maxTotalBytes {
			found.errorf(tooLarge, at, "split it into several systems", "the files of a system have at most %d bytes together", maxTotalBytes)
			return nil, nil
		}
		files[name] = src
	}
	return files, func(name string) ([]byte, string, error) {
		full := filepath.Join(real, filepath.FromSlash(name))
		if rel, err := filepath.Rel(root(), full); err != nil || !filepath.IsLocal(rel) {
			return nil, outsideRepo, errors.New("it lies outside of the repository, or of the folder where there is none")
		}
		return readFile(full, root())
	}
}

var errTooMany = errors.New("too many files")

// systemFiles lists a folder's files in the order of their names, at most maxFiles.
func systemFiles(dir string) ([]fs.DirEntry, error) {
	f, err := os.Open(dir)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var files []fs.DirEntry
	for {
		entries, err := f.ReadDir(512)
		for _, e := range entries {
			if n := e.Name(); strings.HasSuffix(n, Extension) && !strings.HasPrefix(n, ".") {
				files = append(files, e)
			}
		}
		if len(files) > maxFiles {
			return nil, errTooMany
		}
		if errors.Is(err, io.EOF) {
			slices.SortFunc(files, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
			return files, nil
		}
		if err != nil {
			return nil, err
		}
	}
}

// repository is the nearest folder at or above dir that holds .git, or dir.
func repository(dir string) string {
	for at := dir; ; at = filepath.Dir(at) {
		if _, err := os.Lstat(filepath.Join(at, ".git")); err == nil {
			return at
		}
		if filepath.Dir(at) == at {
			return dir
		}
	}
}

// readFile reads one regular file that lies inside root, links followed.
func readFile(name, root string) (src []byte, code string, err error) {
	real, err := filepath.EvalSymlinks(name)
	if err != nil {
		return nil, unreadableFile, err
	}
	if rel, err := filepath.Rel(root, real); err != nil || !filepath.IsLocal(rel) {
		return nil, outsideRepo, fmt.Errorf("this is a link to a file outside of the repository")
	}
	if info, err := os.Lstat(real); err != nil {
		return nil, unreadableFile, err
	} else if !info.Mode().IsRegular() {
		return nil, unreadableFile, errNotRegular
	}
	src, err = readRegular(real)
	return src, unreadableFile, err
}

// readRegular reads one file that was a regular one a moment ago. It reads one byte
// more than a file may have, so that the reader sees it is too large.
func readRegular(name string) ([]byte, error) {
	// O_NONBLOCK: should the file have become a pipe by now, opening it must
	// not wait for a writer.
	f, err := os.OpenFile(name, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	} else if !info.Mode().IsRegular() {
		return nil, errNotRegular
	}
	// Room for all of it and for what tells its end, so that it is read at once.
	var src bytes.Buffer
	src.Grow(int(min(info.Size(), maxFileBytes)) + bytes.MinRead)
	_, err = src.ReadFrom(io.LimitReader(f, maxFileBytes+1))
	return src.Bytes(), err
}

var errNotRegular = errors.New("this is no regular file")

// reason gives an operating system's error without the name of the file, which
// the place of the diagnostic says, and without the call.
func reason(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file or folder"
	case errors.Is(err, fs.ErrPermission):
		return "it may not be read"
	case errors.Is(err, syscall.ENOTDIR):
		return "this is no folder"
	}
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	return err.Error()
}
