package folders

import (
	"os"
	"path/filepath"
	"reflect"
	"testing"
)

func TestExpand(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, file := range []string{
		"a/s.tap.hcl", "a/b/s.tap.hcl", "a/b/t.tap.hcl", "a/.hidden/s.tap.hcl", "a/c/notes.txt", "a-1/s.tap.hcl",
		"a/d/folder.tap.hcl/x.txt", ".dot/s.tap.hcl", "empty/x",
	} {
		if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for name, target := range map[string]string{"link": "a", "a/loop": "..", "gone": "nowhere"} {
		if err := os.Symlink(target, name); err != nil {
			t.Skip("no links here:", err)
		}
	}
	tests := []struct {
		args  []string
		dirs  []string
		codes []string
	}{
		{args: []string{"a"}, dirs: []string{"a"}},
		{args: []string{"./a/", "a/b/../b", "a"}, dirs: []string{"a", "a/b"}},
		{args: []string{"a/..."}, dirs: []string{"a", "a/b"}},
		{args: []string{"..."}, dirs: []string{"a", "a-1", "a/b"}},
		{args: []string{"./..."}, dirs: []string{"a", "a-1", "a/b"}},
		{args: []string{"a-1", "a/..."}, dirs: []string{"a-1", "a", "a/b"}},
		{args: []string{"link/..."}, dirs: []string{"link", "link/b"}},
		{args: []string{".dot"}, dirs: []string{".dot"}},
		{args: []string{".dot/..."}, dirs: []string{".dot"}},
		{args: []string{"none", "a"}, dirs: []string{"a"}, codes: []string{"no-folder"}},
		{args: []string{"gone"}, codes: []string{"no-folder"}},
		{args: []string{"none/..."}, codes: []string{"no-folder"}},
		{args: []string{"empty"}, codes: []string{"no-system"}},
		{args: []string{"a/d"}, codes: []string{"no-system"}},
		{args: []string{"empty/..."}, codes: []string{"no-system"}},
		{args: []string{"a/s.tap.hcl"}, codes: []string{"not-a-folder"}},
		{args: []string{"a/s.tap.hcl/..."}, codes: []string{"not-a-folder"}},
		{args: []string{"a\x00b"}, codes: []string{"unreadable-folder"}},
		{args: []string{""}, codes: []string{"no-folder"}},
	}
	for _, tt := range tests {
		dirs, problems := Expand(tt.args)
		var codes []string
		for _, p := range problems {
			codes = append(codes, p.Code)
		}
		if !reflect.DeepEqual(dirs, tt.dirs) || !reflect.DeepEqual(codes, tt.codes) {
			t.Errorf("%q: got %q %v, want %q %q", tt.args, dirs, problems, tt.dirs, tt.codes)
		}
	}
}

// A folder that may not be read is told of, and takes nothing from the others.
func TestUnreadableFolder(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, dir := range []string{"a/one", "a/shut", "a/two"} {
		if err := os.MkdirAll(dir, 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(dir+"/s.tap.hcl", nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Chmod("a/shut", 0); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod("a/shut", 0o777)
	if _, err := os.ReadDir("a/shut"); err == nil {
		t.Skip("everything may be read here")
	}
	dirs, problems := Expand([]string{"a/..."})
	if want := []string{"a/one", "a/two"}; !reflect.DeepEqual(dirs, want) || len(problems) != 1 || problems[0].Code != "unreadable-folder" {
		t.Errorf("got %q %v, want %q", dirs, problems, want)
	}
}
