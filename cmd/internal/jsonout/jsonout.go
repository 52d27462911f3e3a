// Package jsonout writes an outcome as the one JSON object of
// "tapline check --format json".
//
// All values are SI. The keys come in a fixed order, every array of named
// things is sorted by name (the layers of "after" and the related places keep
// their order, flags go by file and place), and the same outcome gives the same
// bytes. A field not computed is null, never missing. JSON has no spelling for
// a number that is not finite, so such a number is null too.
package jsonout

import (
	"bytes"
	"encoding/json"

	"tapline/compiler"
)

// Schema is the number of the layout written. It changes when a reader of the
// layout before would misread the new one.
const Schema = 1

type document struct {
	Schema      int                      `json:"schema"`
	ToolVersion string                   `json:"tool_version"`
	Systems     []compiler.SystemOutcome `json:"systems"`
	Flags       []flag                   `json:"flags"`
}

// Encode gives the object for o, ending in a newline. The outcome is not changed.
func Encode(o *compiler.Outcome, toolVersion string) ([]byte, error) {
	doc := document{Schema: Schema, ToolVersion: toolVersion, Systems: systems(o.Systems), Flags: flags(o.Flags)}
	return Indent(doc)
}

// Indent gives any value as JSON in the style of Encode: one space a level, and
// no letters of a name replaced by escapes for the sake of HTML.
func Indent(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
