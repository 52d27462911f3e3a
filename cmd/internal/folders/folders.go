// Package folders turns the DIR arguments of a command into system folders.
//
// A plain DIR stands for itself. DIR/... stands for DIR and every folder below
// that holds a file ending in .tap.hcl, sorted; folders whose name begins with
// a dot are skipped and links to folders are not followed, so that the walk
// ends. What cannot be used comes back as diagnostics of level Error, beside
// the folders that can.
package folders

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"tapline/lang/diag"
)

// Extension is how the files of a system end.
const Extension = ".tap.hcl"

// Expand gives the folders that the arguments stand for, each once, with
// forward slashes: in the order of the arguments, sorted below each DIR/....
func Expand(args []string) (dirs []string, problems []diag.Diagnostic) {
	have := map[string]bool{}
	for _, arg := range args {
		var found []string
		var wrong []diag.Diagnostic
		if root, ok := everyBelow(arg); ok {
			found, wrong = walk(root)
		} else {
			found, wrong = single(arg)
		}
		problems = append(problems, wrong...)
		for _, dir := range found {
			if dir = filepath.ToSlash(filepath.Clean(dir)); !have[dir] {
				have[dir] = true
				dirs = append(dirs, dir)
			}
		}
	}
	return dirs, problems
}

// everyBelow splits "DIR/..." and the bare "...", which is that of ".".
func everyBelow(arg string) (root string, ok bool) {
	arg = filepath.ToSlash(arg)
	if arg == "..." {
		return ".", true
	}
	root, ok = strings.CutSuffix(arg, "/...")
	if ok && root == "" {
		root = "/"
	}
	return root, ok
}

func single(dir string) ([]string, []diag.Diagnostic) {
	info, err := os.Stat(dir)
	switch {
	case err != nil:
		return nil, missing(dir, err)
	case info.IsDir():
		if !holdsSystem(dir) {
			return nil, problem("no-system", fmt.Sprintf("the folder %q holds no file ending in %s", dir, Extension),
				fmt.Sprintf("write %q for every system below it", filepath.ToSlash(filepath.Join(dir, "..."))))
		}
		return []string{dir}, nil
	}
	return nil, problem("not-a-folder", fmt.Sprintf("%q is a file; a system is a folder", dir),
		fmt.Sprintf("write %q", filepath.ToSlash(filepath.Dir(dir))))
}

func holdsSystem(dir string) bool {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return true // whoever reads it says why it cannot be read
	}
	return slices.ContainsFunc(entries, isSystemFile)
}

func isSystemFile(e fs.DirEntry) bool {
	return !e.IsDir() && strings.HasSuffix(e.Name(), Extension)
}

func walk(root string) (dirs []string, problems []diag.Diagnostic) {
	info, err := os.Stat(root)
	switch {
	case err != nil:
		return nil, missing(root, err)
	case !info.IsDir():
		return nil, problem("not-a-folder", fmt.Sprintf("%q is a file, so nothing is below it", root), fmt.Sprintf("write %q", filepath.ToSlash(filepath.Dir(root))))
	}
	holding := map[string]bool{}
	// The separator makes WalkDir look through a root that is itself a link.
	_ = filepath.WalkDir(root+string(filepath.Separator), func(path string, e fs.DirEntry, err error) error {
		path = filepath.Clean(path)
		if err != nil { // of this folder alone; the walk goes on
			problems = append(problems, missing(filepath.ToSlash(path), err)...)
			return nil
		}
		if e.IsDir() && path != filepath.Clean(root) && strings.HasPrefix(e.Name(), ".") {
			return filepath.SkipDir
		}
		if isSystemFile(e) {
			holding[filepath.Dir(path)] = true
		}
		return nil
	})
	if len(holding) == 0 && len(problems) == 0 {
		return nil, problem("no-system", fmt.Sprintf("no folder below %q holds a file ending in %s", root, Extension), "")
	}
	for dir := range holding {
		dirs = append(dirs, dir)
	}
	slices.Sort(dirs)
	return dirs, problems
}

func missing(dir string, err error) []diag.Diagnostic {
	if os.IsNotExist(err) {
		return problem("no-folder", fmt.Sprintf("there is no folder %q", dir), "")
	}
	return problem("unreadable-folder", fmt.Sprintf("the folder %q cannot be read: %v", dir, err), "")
}

func problem(code, message, hint string) []diag.Diagnostic {
	return []diag.Diagnostic{{Code: code, Level: diag.Error, Message: message, Hint: hint}}
}
