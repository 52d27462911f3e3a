package lang

import (
	"regexp"
	"testing"
)

// Every word of the trade that gets a hint is no block itself, and the hint
// begins with a block that is.
func TestTradeWordsLeadToBlocks(t *testing.T) {
	first := regexp.MustCompile(`^[a-z_]+`)
	for word, write := range tradeWords() {
		if Lookup(word) != nil {
			t.Errorf("%s is a block", word)
		}
		if k := first.FindString(write); Lookup(k) == nil && k != "no" {
			t.Errorf("%s leads to %q, which is no block", word, k)
		}
	}
	_, found := ReadFiles("x", map[string][]byte{"x.tap.hcl": []byte("system \"s\" {}\nrotameter \"FI-1\" {}\n")})
	for _, f := range found {
		if f.Code == unknownBlock && f.Hint == "write meter" {
			return
		}
	}
	t.Errorf("no hint for a rotameter: %v", found)
}
