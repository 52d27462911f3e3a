// Package guard is the whitelist pass over one file's bytes that runs before
// any recursive parser sees them.
package guard

import "tapline/lang/diag"

// Check returns what the file may not contain, at most 20 errors.
func Check(name string, src []byte) []diag.Diagnostic { return nil }
