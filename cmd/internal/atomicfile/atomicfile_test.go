package atomicfile

import (
	"os"
	"path/filepath"
	"testing"
)

func TestWrite(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "out.json")
	for _, text := range []string{"first, and longer", "second"} {
		if err := Write(name, []byte(text)); err != nil {
			t.Fatal(err)
		}
		if got, _ := os.ReadFile(name); string(got) != text {
			t.Errorf("got %q, want %q", got, text)
		}
	}
	only(t, dir, "out.json")
}

func TestWriteKeepsModeAndLink(t *testing.T) {
	dir := t.TempDir()
	name, link := filepath.Join(dir, "out.json"), filepath.Join(dir, "link")
	if err := os.WriteFile(name, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("out.json", link); err != nil {
		t.Skip("no links here:", err)
	}
	if err := Write(link, []byte("x")); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(name)
	if err != nil || info.Mode().Perm() != 0o600 || info.Size() != 1 {
		t.Errorf("got %v %v", info, err)
	}
	if target, err := os.Readlink(link); target != "out.json" {
		t.Errorf("the link points at %q, %v", target, err)
	}
	only(t, dir, "link", "out.json")
}

func TestWriteFails(t *testing.T) {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "folder"), 0o777); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"folder", "none/out.json", ""} {
		if name != "" {
			name = filepath.Join(dir, name)
		}
		if err := Write(name, []byte("x")); err == nil {
			t.Errorf("%q: no error", name)
		}
	}
	only(t, dir, "folder")
}

func TestWriteToDevice(t *testing.T) {
	if err := Write(os.DevNull, []byte("x")); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(os.DevNull); err != nil || info.Mode().IsRegular() {
		t.Fatalf("%s was replaced: %v %v", os.DevNull, info, err)
	}
}

func only(t *testing.T, dir string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) != len(want) {
		t.Fatalf("got %v, want %v", entries, want)
	}
	for i, e := range entries {
		if e.Name() != want[i] {
			t.Errorf("got %v, want %v", e.Name(), want[i])
		}
	}
}
