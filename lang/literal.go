package lang

import "tapline/lang/diag"

type literal struct{}

func (l literal) within(start, end int) (diag.Range, bool) { return diag.Range{}, false }
