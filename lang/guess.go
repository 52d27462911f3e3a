package lang

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/agext/levenshtein"
)

// nearest gives the candidate that name was most likely meant to be, or "".
// The number of guesses and of comparisons in one run is bounded: a hostile
// file could otherwise ask for millions.
func (c *collector) nearest(name string, candidates []string) string {
	if c.guesses >= maxGuesses || len(name) > 2*maxTagRunes {
		return ""
	}
	c.guesses++
	lower := strings.ToLower(name)
	length := utf8.RuneCountInString(lower)
	best, least := "", max(1, length/3)+1
	for _, cand := range candidates {
		if c.tried++; c.tried > maxCompared {
			break
		}
		if d := utf8.RuneCountInString(cand) - length; d >= least || -d >= least {
			continue
		}
		if d := levenshtein.Distance(lower, strings.ToLower(cand), nil); d < least {
			best, least = cand, d
		}
	}
	return best
}

// meant gives the hint for an unknown name: the nearest candidate, or all of
// them where they are few.
func (c *collector) meant(name string, candidates []string) string {
	if near := c.nearest(name, candidates); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	if n := len(candidates); n > 0 && n <= 8 {
		return "known here: " + strings.Join(candidates, ", ")
	}
	return ""
}
