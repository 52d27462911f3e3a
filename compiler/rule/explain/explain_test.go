package explain

import (
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"tapline/compiler"
	"tapline/compiler/rule"
	"tapline/lang"
	"tapline/lang/diag"
)

var update = flag.Bool("update", false, "write RULES.md anew")

// said gives everything found in an example, from reading to judging.
func said(t *testing.T, e Entry, text string) []diag.Diagnostic {
	t.Helper()
	files := map[string][]byte{"system.tap.hcl": []byte(text)}
	if !e.Alone {
		files["common.tap.hcl"] = []byte(Common())
	}
	d, found := lang.ReadFiles("example", files)
	if diag.HasErrors(found) {
		return found
	}
	run, err := compiler.Solve(d, compiler.Options{})
	if err != nil {
		t.Fatal(err)
	}
	found = append(found, run.Found...)
	if diag.HasErrors(found) {
		return found
	}
	return append(found, rule.Judge(run)...)
}

// Every failing example brings about the very code, at a level that the entry
// names; every mended one does not, and has no error besides.
func TestExamples(t *testing.T) {
	for _, g := range Groups() {
		for _, e := range g.Entries {
			if e.NoExample != "" {
				continue
			}
			t.Run(e.Code, func(t *testing.T) {
				found := said(t, e, e.Failing)
				i := slices.IndexFunc(found, func(d diag.Diagnostic) bool { return d.Code == e.Code })
				if i < 0 {
					t.Errorf("failing, it says only %v", found)
				} else if !strings.Contains(e.Level, found[i].Level.String()) {
					t.Errorf("raised as %v, explained as %s", found[i].Level, e.Level)
				}
				for _, d := range found {
					if d.Level == diag.Error && d.Code != e.Code {
						t.Errorf("failing, it has another error: %v", d)
					}
				}
				for _, d := range said(t, e, e.Mended) {
					if d.Code == e.Code || d.Level == diag.Error {
						t.Errorf("mended, it still says %v", d)
					}
				}
			})
		}
	}
}

func TestEntriesAreComplete(t *testing.T) {
	seen := map[string]bool{}
	for _, g := range Groups() {
		for _, e := range g.Entries {
			if seen[e.Code] {
				t.Errorf("%s stands twice", e.Code)
			}
			seen[e.Code] = true
			if e.Level == "" || e.Title == "" || e.Means == "" || e.Why == "" || e.Basis == "" {
				t.Errorf("%s: %+v lacks something", e.Code, e)
			}
			if example := e.Failing != "" && e.Mended != ""; example == (e.NoExample != "") {
				t.Errorf("%s: either both examples or the reason for none", e.Code)
			}
			if len(e.Title) > 53 {
				t.Errorf("%s: the title does not fit on a line of the list", e.Code)
			}
			if e.Failing != "" && e.Failing == e.Mended {
				t.Errorf("%s: nothing is mended", e.Code)
			}
		}
	}
}

// The codes that the sources can raise are the codes explained, no more and no
// less.
func TestEveryCodeIsExplained(t *testing.T) {
	raised := map[string]string{}
	for _, dir := range []string{"../../../lang", "../../../lang/guard", "../..", ".."} {
		maps.Copy(raised, codesIn(t, dir))
	}
	for _, r := range rule.Rules() {
		for _, c := range r.Codes {
			raised[c] = "rule"
		}
	}
	if len(raised) < 60 {
		t.Errorf("only %d codes found in the sources", len(raised))
	}
	for _, code := range slices.Sorted(maps.Keys(raised)) {
		if _, ok := Find(code); !ok {
			t.Errorf("%s, raised in %s, is not explained", code, raised[code])
		}
	}
	for _, code := range Codes() {
		if raised[code] == "" {
			t.Errorf("%s is explained and never raised", code)
		}
	}
}

var kebab = regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)

// codesIn finds the codes in the sources of a package: the text constants of
// lang/codes.go and of lang/guard/guard.go, the values of fields named Code,
// and the first arguments of functions named errorf.
func codesIn(t *testing.T, dir string) map[string]string {
	t.Helper()
	codes := map[string]string{}
	names, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil || len(names) == 0 {
		t.Fatal("no sources in", dir, err)
	}
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		take := func(x ast.Expr) {
			if l, ok := x.(*ast.BasicLit); ok && l.Kind == token.STRING {
				if s, err := strconv.Unquote(l.Value); err == nil && kebab.MatchString(s) {
					codes[s] = name
				}
			}
		}
		constants := filepath.Base(name) == "codes.go" || filepath.Base(name) == "guard.go"
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.ValueSpec:
				for _, v := range n.Values {
					if constants {
						take(v)
					}
				}
			case *ast.KeyValueExpr:
				if key, ok := n.Key.(*ast.Ident); ok && key.Name == "Code" {
					take(n.Value)
				}
			case *ast.CallExpr:
				if f, ok := n.Fun.(*ast.SelectorExpr); ok && f.Sel.Name == "errorf" && len(n.Args) > 0 {
					take(n.Args[0])
				}
			}
			return true
		})
	}
	return codes
}

// RULES.md says what the archives say.
func TestRulesPageIsFresh(t *testing.T) {
	const page = "../RULES.md"
	want := Markdown()
	if *update {
		if err := os.WriteFile(page, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if got, err := os.ReadFile(page); err != nil || string(got) != want {
		t.Errorf("RULES.md is stale (%v); run go test ./compiler/rule/explain -update", err)
	}
}

// Archives that are put together wrongly are errors.
func TestParse(t *testing.T) {
	for _, tc := range []struct{ text, words string }{
		{"-- a/failing --\n", "before its about"},
		{"-- a/about --\nlevel: note\nlevel: alarm\n", "cannot read"},
		{"-- a/about --\nlevle: note\n", "cannot read"},
		{"-- a/about --\nlevel: note\n-- a/broken --\n", "no part of an entry"},
	} {
		_, err := parse(fstest.MapFS{"x.txtar": {Data: []byte(tc.text)}}, "x.txtar")
		if err == nil || !strings.Contains(err.Error(), tc.words) {
			t.Errorf("%q: %v, want words %q", tc.text, err, tc.words)
		}
	}
}
