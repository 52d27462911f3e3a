package main

import (
	"io"
	"os"
	"path/filepath"
	"testing"
)

// What the command itself costs in a run of check, reading and solving apart:
// flags, folders, text and status.
func BenchmarkCheck(b *testing.B) {
	dir := filepath.Join(b.TempDir(), "house")
	if err := os.Mkdir(dir, 0o777); err != nil {
		b.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "s.tap.hcl"), nil, 0o666); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		a := app{args: []string{"check", dir}, stdout: io.Discard, stderr: io.Discard, getenv: func(string) string { return "" }, engine: byHand}
		if got := a.run(); got != statusUnsolved {
			b.Fatalf("exit status %d", got)
		}
	}
}

// BenchmarkExample is reading, compiling, solving and judging the example, warm.
func BenchmarkExample(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := compile([]string{"../../examples/grid-injection"}, engineOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}
