package lang

// What one system may hold. The first three are the language's own; the others
// keep a hostile folder within two seconds and 500 MB.
const (
	maxFileBytes  = 256 << 10
	maxTotalBytes = 4 << 20
	maxFiles      = 1000
	maxBlocks     = 50_000  // blocks, nested ones included
	maxValues     = 150_000 // attributes, elements of lists, entries of maps
	maxPathBytes  = 20_000
	maxTextBytes  = 20_000 // title, note, data
	maxTagRunes   = 100
	maxMistakes   = 200 // listed for one file; the rest is counted
	maxGuesses    = 100 // names that get a did-you-mean in one run
	maxCompared   = 400_000
)
