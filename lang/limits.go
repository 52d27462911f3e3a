package lang

// What one system may hold. The first five are the language's own; the others
// keep a hostile folder within two seconds and 500 MB. A system of 40,000 lines
// uses about half of each.
const (
	maxFileBytes  = 256 << 10
	maxTotalBytes = 4 << 20
	maxFiles      = 1000
	maxPathBytes  = 20_000
	maxGuesses    = 100 // names that get a did-you-mean in one run

	maxTokens     = 1_000_000 // words and signs, ends of lines included, arrows not
	maxInFile     = 160_000   // of those, in one file
	maxBlocks     = 20_000    // blocks, nested ones included
	maxValues     = 50_000    // attributes, elements of lists, entries of maps
	maxCases      = 5_000     // cases written out
	maxSpreads    = 100
	maxCombined   = 1_000_000  // cases of all spreads that combine values, and values listed for them
	maxDraws      = 10_000_000 // draws of all spreads
	maxPathTotal  = 512 << 10  // bytes of all paths
	maxTextBytes  = 20_000     // of one title, note, datum
	maxTagRunes   = 100
	maxCurveBytes = 64 << 10 // of one file of a measured curve
	maxPorts      = 64       // of a multiway valve
	maxWays       = 256      // positions of it, and ways that one of them joins
	maxMistakes   = 200      // listed for one file; the rest is counted
	maxInAll      = 1_000    // after which no further file is read
	maxCompared   = 400_000  // names compared for did-you-means in one run
)
