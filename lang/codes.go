package lang

// The codes of this package's diagnostics, all of level error unless
// it says otherwise. A code is never
// renamed and never used for something else. (Package guard has its own.)
const (
	// Files.
	unreadableFile = "unreadable-file" // a file or folder that cannot be read, or is no regular file
	outsideRepo    = "outside-repository"
	noFiles        = "no-files"       // a folder without *.tap.hcl files
	badCurveFile   = "bad-curve-file" // a file of a measured curve that is none
	tooLarge       = "too-large"      // more bytes, files, blocks, values or text than a system may hold
	moreMistakes   = "more-mistakes"  // how many mistakes of one file are not listed
	badTable       = "bad-table"      // a table of cases that cannot be read as one
	missingSystem  = "missing-system" // files without a system block

	// Syntax.
	syntaxError  = "syntax"      // what HCL cannot read
	badEscape    = "bad-escape"  // a backslash sequence that means nothing
	notLiteral   = "not-literal" // an expression that is no literal, list, map or given.NAME
	unsafeText   = "unsafe-text" // control characters in names or text
	notYetBuilt  = "not-yet-built"
	wrongType    = "wrong-type"    // a list where a text belongs, a block where an attribute belongs ...
	wrongLabels  = "wrong-labels"  // a block with a missing tag, or with one too many
	badName      = "bad-name"      // a tag or name that cannot be one
	unknownBlock = "unknown-block" // no such block here
	unknownAttr  = "unknown-attribute"
	missingAttr  = "missing-attribute"
	conflict     = "conflicting-attributes"

	// Repetition.
	repeatedAttr  = "repeated-attribute"
	repeatedBlock = "repeated-block" // a kind of block, or kind and tag, a second time
	repeatedKey   = "repeated-key"   // a key of a map, or an element of a list of names
	repeatedName  = "repeated-name"  // one name for two things
	similarName   = "similar-name"   // two names that differ only in case

	// Values.
	badValue             = "bad-value"         // an engineering value that cannot be read
	wrongUnit            = "wrong-unit"        // a value of another dimension
	gaugeAbsolute        = "gauge-or-absolute" // a pressure that does not say, or a difference that does
	outsideLimits        = "outside-limits"    // a value outside what the schema allows
	unknownChoice        = "unknown-choice"
	badComposition       = "bad-composition"
	badPassage           = "bad-passage" // a way through a multiway valve that is none
	unsupportedComponent = "unsupported-component"
	normalised           = "normalised" // a note: parts that sum to a little more or less than a whole

	// Names.
	unknownTag      = "unknown-tag"
	unknownPort     = "unknown-port"
	unknownLabel    = "unknown-label"
	unknownFluid    = "unknown-fluid"
	unknownCase     = "unknown-case"
	unknownPosition = "unknown-position" // of a multiway valve
	unknownGiven    = "unknown-given"
	unknownKey      = "unknown-key" // a key that the map does not know
	wrongPlace      = "wrong-place" // a quantity judged where there is none, like the pressure of a device
	loneGauge       = "gauge-without-node"
	caseCycle       = "case-cycle"      // cases that start from one another
	notOverridden   = "not-overridable" // what a case may not hold
	faultInBase     = "fault-outside-case"
	nothingMoves    = "nothing-moves" // a spread in which no value is a list, or nothing has a tolerance

	// Paths.
	badPath      = "bad-path"         // what the path grammar cannot read
	badTube      = "bad-tube"         // a tube written in place that says too little or too much
	midBoundary  = "boundary-in-path" // a source or vent that does not end its path
	deviceTwice  = "device-twice"
	portTwice    = "port-twice"
	unusedDevice = "unused-device" // a device in no path
	openEnd      = "open-end"      // a device end or label that leads nowhere
)
