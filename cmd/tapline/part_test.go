package main

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"
)

func TestParsePart(t *testing.T) {
	for text, want := range map[string]share{"1/1": {1, 1}, "3/16": {3, 16}, "1000000/1000000": {1000000, 1000000}} {
		if got, err := parsePart(text); err != nil || got != want {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"0/3", "4/3", "3", "/", "a/b", "1/0", "-1/3", "1/1000001", "1/3/5", " 1/3"} {
		if got, err := parsePart(text); err == nil {
			t.Errorf("%q is taken as %v", text, got)
		}
	}
}

func TestPartOfEnvironment(t *testing.T) {
	for _, tc := range []struct {
		env  map[string]string
		want string // "" for an error
	}{
		{map[string]string{}, "1/1"},
		{map[string]string{"CI_NODE_TOTAL": "1"}, "1/1"}, // as a CI without a matrix sets it
		{map[string]string{"CI_NODE_INDEX": "3", "CI_NODE_TOTAL": "16"}, "3/16"},
		{map[string]string{"JOB_COMPLETION_INDEX": "0", "JOB_COMPLETIONS": "16"}, "1/16"},
		{map[string]string{"JOB_COMPLETION_INDEX": "15", "JOB_COMPLETIONS": "16"}, "16/16"},
		{map[string]string{"JOB_COMPLETION_INDEX": "16", "JOB_COMPLETIONS": "16"}, ""},
		{map[string]string{"JOB_COMPLETION_INDEX": "3"}, ""},
		{map[string]string{"CI_NODE_TOTAL": "4"}, ""},
		{map[string]string{"CI_NODE_INDEX": "0", "CI_NODE_TOTAL": "4"}, ""},
		{map[string]string{"CI_NODE_INDEX": "two", "CI_NODE_TOTAL": "4"}, ""},
		{map[string]string{"CI_NODE_INDEX": "2", "CI_NODE_TOTAL": "4", "JOB_COMPLETION_INDEX": "1", "JOB_COMPLETIONS": "4"}, "2/4"},
		{map[string]string{"CI_NODE_INDEX": "2", "CI_NODE_TOTAL": "4", "JOB_COMPLETION_INDEX": "2", "JOB_COMPLETIONS": "4"}, ""},
	} {
		got, err := partOf("", true, func(name string) string { return tc.env[name] })
		if text := fmt.Sprintf("%d/%d", got.Part, got.Of); tc.want != text && !(tc.want == "" && err != nil) {
			t.Errorf("%v: %s, %v; want %s", tc.env, text, err, tc.want)
		}
		if got, err := partOf("", false, func(name string) string { return tc.env[name] }); got.Of != 0 || err != nil {
			t.Errorf("%v makes a part where none is asked for", tc.env)
		}
		if got, err := partOf("2/5", true, func(name string) string { return tc.env[name] }); got != (share{2, 5}) || err != nil {
			t.Errorf("%v wins over the flag", tc.env)
		}
	}
}

// FuzzPart reads any bytes as a part file: what is taken can be joined, and written and
// read again.
func FuzzPart(f *testing.F) {
	for _, text := range []string{
		`{"schema":1,"part":1,"parts":2,"dirs":["a"],"systems":[{"dir":"a","spreads":{"s":{"Cases":2,"Solved":2,"Limits":[{"Source":"band","First":{"Case":1},"Judged":1,"Inside":1,"Lowest":{"Case":1,"Value":3},"Highest":{"Case":1,"Value":3},"Worst":{"Case":1,"Value":3}}],"Flags":[{"Case":1,"Cases":1}]}}}]}`,
		`{"schema":1,"part":1,"parts":1,"dirs":["a"],"systems":[{"spreads":{"s":null}}]}`, `{"schema":2}`, `[]`, ``,
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := decodePart(data)
		if err != nil {
			return
		}
		for _, tally := range join([]*partFile{p}).tallies {
			if !tally.Whole(math.MaxInt) {
				t.Fatal("joined, a tally lacks something")
			}
		}
		again, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := decodePart(again); err != nil {
			t.Fatal(err)
		}
	})
}
