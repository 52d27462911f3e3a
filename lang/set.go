package lang

import (
	"fmt"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"tapline/lang/diag"
)

// setFile is the name under which settings of the command line are shown.
const setFile = "--set"

// setCase begins the names of the cases that hold them while they are read, one
// each.
const setCase = "setting of this run "

var plainValue = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(-?[0-9]+(\.[0-9]+)?([eE][-+]?[0-9]+)?|true|false|null)$`)
})

// With lays settings over every case of a description, the base included, as if
// each were the case's last line: BLOCK.TAG.ATTRIBUTE=VALUE, with the names of
// nested blocks before the attribute, and without TAG for site and given. They
// are read as the text of a file is, with the same messages.
func (d *Description) With(sets []string) (*Description, []diag.Diagnostic) {
	if len(sets) == 0 {
		return d, nil
	}
	var text strings.Builder
	for i, one := range sets {
		fmt.Fprintf(&text, "case %q {\n", setCase+strconv.Itoa(i+1))
		name, value, _ := strings.Cut(one, "=")
		setting(&text, strings.TrimSpace(name), strings.TrimSpace(value))
		text.WriteString("}\n")
	}
	files := map[string][]byte{setFile: []byte(text.String())}
	shown := ""
	for _, f := range d.Files {
		if strings.HasSuffix(f.Name, CurveExtension) {
			continue
		}
		shown = path.Dir(f.Name)
		files[path.Base(f.Name)] = f.Bytes
	}
	for _, f := range d.Files {
		for _, name := range d.curves {
			if path.Join(shown, name) == f.Name {
				files[name] = f.Bytes
			}
		}
	}
	found := newCollector()
	system, open := inMemory(files)
	out := readFiles(d.Dir, shown, system, open, found)
	out.Cases = slices.DeleteFunc(out.Cases, func(c *Case) bool {
		is := strings.HasPrefix(c.Name, setCase)
		if is {
			out.always = append(out.always, c)
		}
		return is
	})
	out.unset = d
	return out, found.result()
}

// setting writes one setting as a partial block.
func setting(text *strings.Builder, name, value string) {
	parts := strings.Split(name, ".")
	attribute := parts[len(parts)-1]
	blocks := parts[:len(parts)-1]
	if !plainValue().MatchString(value) {
		value = strconv.Quote(value)
	}
	depth := 0
	for k := 0; k < len(blocks); k++ {
		depth++
		if t := Lookup(blocks[k]); k == 0 && t != nil && t.Tagged && len(blocks) > 1 {
			fmt.Fprintf(text, "%s %q {\n", blocks[0], blocks[1])
			k++
			continue
		}
		fmt.Fprintf(text, "%s {\n", blocks[k])
	}
	fmt.Fprintf(text, "%s = %s\n%s\n", attribute, value, strings.Repeat("}\n", depth))
}

// Unset gives the description without the settings laid over it by With; itself
// where there are none.
func (d *Description) Unset() *Description {
	if d.unset == nil {
		return d
	}
	return d.unset
}
