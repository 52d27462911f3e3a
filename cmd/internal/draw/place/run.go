package place

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

// ErrMissing is the error of a helper that is nowhere to be found.
var ErrMissing = errors.New(Program + " is not installed; build it with \"go build -o .bin/ ./cmd/...\" in the source folder and put it beside tapline, on PATH, or name it in TAPLINE_LAYOUT")

// patience is how long a layout may take. Building the machine on a cold start
// takes about a second, a thousand boxes about two.
const patience = 60 * time.Second

// Find gives the helper's file: what TAPLINE_LAYOUT names, else the one beside
// the running program, else the one on PATH. Relative names are refused, so that
// nothing in the working folder is ever started.
func Find(getenv func(string) string) (string, error) {
	if named := getenv("TAPLINE_LAYOUT"); named != "" {
		if !filepath.IsAbs(named) {
			return "", fmt.Errorf("TAPLINE_LAYOUT is %q; write an absolute file name", named)
		}
		if !runnable(named) {
			return "", fmt.Errorf("TAPLINE_LAYOUT names %q, which is no program; build it with \"go build -o .bin/ ./cmd/...\"", named)
		}
		return named, nil
	}
	file := Program
	if runtime.GOOS == "windows" {
		file += ".exe"
	}
	var dirs []string
	if self, err := os.Executable(); err == nil {
		dirs = append(dirs, filepath.Dir(self))
	}
	for _, dir := range append(dirs, filepath.SplitList(getenv("PATH"))...) {
		if name := filepath.Join(dir, file); filepath.IsAbs(dir) && runnable(name) {
			return name, nil
		}
	}
	return "", ErrMissing
}

func runnable(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.Mode().IsRegular() && (runtime.GOOS == "windows" || info.Mode().Perm()&0o111 != 0)
}

// Run has the helper place the boxes. The helper's TMPDIR is a folder that only
// the user can enter.
func Run(ctx context.Context, program string, r *Request) (*Answer, error) {
	if err := r.Check(); err != nil {
		return nil, err
	}
	private, err := cache()
	if err != nil {
		return nil, err
	}
	in, err := json.Marshal(r)
	if err != nil {
		return nil, err
	}
	ctx, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	var out, complaint bytes.Buffer
	c := exec.CommandContext(ctx, program)
	c.Stdin, c.Stdout, c.Stderr = bytes.NewReader(in), &out, &complaint
	c.Env = append(os.Environ(), "TMPDIR="+private, "TMP="+private, "TEMP="+private)
	if err := c.Run(); err != nil {
		first, _, _ := strings.Cut(strings.TrimSpace(complaint.String()), "\n")
		return nil, fmt.Errorf("%s failed (%w): %s", program, err, first)
	}
	a := &Answer{}
	if err := json.Unmarshal(out.Bytes(), a); err != nil {
		return nil, fmt.Errorf("%s did not answer in JSON: %w", program, err)
	}
	return a, a.Check(r)
}

// cache gives the helper's own folder, made with mode 0700.
func cache() (string, error) {
	base, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("there is no folder for the files of %s: %w", Program, err)
	}
	dir := filepath.Join(base, "tapline", "layout")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", err
	}
	info, err := os.Lstat(dir)
	if err != nil {
		return "", err
	}
	if !info.IsDir() {
		return "", fmt.Errorf("%s is not a folder; remove it", dir)
	}
	return dir, os.Chmod(dir, 0o700)
}
