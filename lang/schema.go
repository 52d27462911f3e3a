package lang

import (
	"slices"
	"sync"

	"tapline/lang/quantity"
)

// The schema is one table: a row (BlockType) for each kind of block, made of
// rows (Attribute) for what it may say. The rows stand in schema_blocks.go
// (what is not in a path), schema_devices.go and schema_regulators.go (what
// is), schema_common.go (attributes many share) and schema_later.go (what is
// planned). A new device is new rows there and nothing else in this package.

// A Type says which shapes an attribute takes and where its Value holds them.
type Type int

const (
	// TypeQuantity is an engineering value in a string: Quantity, Text.
	TypeQuantity Type = iota
	// TypeNumber is a bare number, or a string where it has a tolerance: Quantity, Number.
	TypeNumber
	// TypeText is free text: Text.
	TypeText
	// TypeFlag is true or false: Flag.
	TypeFlag
	// TypeChoice is one of Choices: Text. With Forms it may be an engineering value
	// in their place: Quantity, Text.
	TypeChoice
	// TypeChoices is a list of Choices, or one: List of Text (see Value.Texts).
	TypeChoices
	// TypeName is the name of something of kind Refers: Text.
	TypeName
	// TypeNames is a list of names, or one: List of Text (see Value.Texts).
	TypeNames
	// TypePorts is a list of names of a device's own ports: List of Text.
	TypePorts
	// TypePassages is a list of ways between the ports of a multiway valve, "a > b",
	// or one: List of Text. See Block.Positions.
	TypePassages
	// TypePositions maps the positions of a multiway valve to such lists: Map of List.
	TypePositions
	// TypeDome is a node, "(P7)" (Text), or a charged pressure (Quantity).
	TypeDome
	// TypePath is a path or a list of paths: Text or List of Text.
	TypePath
	// TypeReference is a reference state: Reference, Text.
	TypeReference
	// TypeComposition maps components to their per cent: Map whose values hold a
	// ratio in Quantity (1 is all), or the Text "rest".
	TypeComposition
	// TypeUnits maps Keys to spellings of units: Map of Text.
	TypeUnits
	// TypePoints is a list of points, each a list of a flow and a pressure: List of
	// Values whose List holds two with a Quantity.
	TypePoints
	// TypeCurveFile names a CSV file of points: Text, and List as of TypePoints.
	TypeCurveFile
	// TypeShares maps names of sources to ratios: Map of Quantity.
	TypeShares
	// TypeData maps free keys to free text, numbers or flags: Map.
	TypeData
)

// A Target is a kind of name that an attribute may refer to.
type Target int

const (
	ToNothing Target = iota
	ToFluid          // a fluid block
	ToSource         // a source block
	ToDevice         // anything with a tag that stands in a path
	ToPlace          // a node "(P2)", a port "TAG.in" or a bare tag
	ToCase           // a case, "base" included
)

// A Limits is the range a value must lie in, in SI (ratios: 1 is 100 %).
type Limits struct {
	Low, High         float64 // -Inf and +Inf where there is none
	LowOpen, HighOpen bool    // the end itself is not allowed
	Text              string  // for people: "above 0"
}

// An Attribute is one row: what an attribute may say.
type Attribute struct {
	Name       string
	Type       Type
	Dimension  quantity.Dimension // TypeQuantity, TypeChoice with Forms
	Forms      quantity.Form      // TypeQuantity; TypeChoice that takes values too
	Limits     *Limits            // nil for none
	Choices    []string           // TypeChoice, TypeChoices
	Later      []string           // choices of the language that are not yet built
	Keys       []Key              // TypeUnits
	Refers     Target             // TypeName, TypeNames
	Default    string             // as it would be written; "" for none
	Required   bool
	Unless     []string // Required only where all of these nested blocks are absent
	Excludes   []string // nested blocks it cannot stand beside
	By         *By      // TypeQuantity: the dimension follows another attribute
	Fixed      bool     // a case may not override it
	NotBuilt   bool     // part of the language, not yet of this version
	Help, Term string   // one line each; Term is the standard's or the trade's word

	once     sync.Once // guards fallback, the default as a value
	fallback *Value
}

// A Key is a key that a map knows, with the dimension it is about.
type Key struct {
	Name      string
	Dimension quantity.Dimension
}

// A By makes a dimension follow a sibling attribute's choice.
type By struct {
	Attribute  string
	Dimensions []Key // by choice
}

// A Role says where a block stands in the network.
type Role int

const (
	Aside    Role = iota // in no path: site, fluid, band ...
	Inline               // between two nodes: valve, tube, reducer ...
	Boundary             // at the end of paths: source, vent
	Pot                  // a node itself: vessel
	AtNode               // at a label of the same name: gauge
)

// An OneOf is a set of attributes of which at most one may be given, and
// exactly one where Needed. Where it says Replaces, one that a case states takes
// the place of the others that hold outside of it.
type OneOf struct {
	Names    []string
	Needed   bool
	Replaces bool
}

// A BlockType is one row of the schema table: what a block may say.
type BlockType struct {
	Kind, Group string
	Help, Term  string
	Role        Role
	Tagged      bool     // its header has one tag
	Ports       []string // of devices; the attribute "ports", where there is one, replaces them
	Attributes  []*Attribute
	Nested      []*BlockType
	OneOf       []OneOf
	Together    [][]string // attributes that come together or not at all
	Needed      bool       // nested: must be there
	Repeats     bool       // nested: several may stand in a block; those of a case replace them all
	InCase      bool       // a case may hold a partial copy
	NotBuilt    bool       // part of the language, not yet of this version
	Open        bool       // takes attributes of any name: given
}

// Schema gives the rows of all blocks that stand at the top of a file, in the
// order of the language's pages. The rows are shared: do not change them.
func Schema() []*BlockType { return slices.Clone(schema) }

// Lookup gives the row of a kind of block at the top of a file, or nil.
func Lookup(kind string) *BlockType {
	for _, t := range schema {
		if t.Kind == kind {
			return t
		}
	}
	return nil
}

// Attribute gives the row of an attribute, or nil.
func (t *BlockType) Attribute(name string) *Attribute {
	for _, a := range t.Attributes {
		if a.Name == name {
			return a
		}
	}
	return nil
}

// Child gives the row of a nested block, or nil.
func (t *BlockType) Child(kind string) *BlockType {
	for _, n := range t.Nested {
		if n.Kind == kind {
			return n
		}
	}
	return nil
}

// InPath tells whether a block of this type has its tag in the name space of
// devices, labels and ports and stands in paths.
func (t *BlockType) InPath() bool { return t.Role == Inline || t.Role == Boundary || t.Role == Pot }

// Faults gives the faults a device of this kind may have in a case, built and
// planned.
func (t *BlockType) Faults() (built, later []string) {
	if a := t.Attribute("fault"); a != nil {
		return a.Choices, a.Later
	}
	return nil, nil
}

func (t *BlockType) defaultOf(name string) *Value {
	if a := t.Attribute(name); a != nil {
		return a.DefaultValue()
	}
	return nil
}

// DefaultValue gives what holds where nothing is written, or nil. The value is
// shared: do not change it.
func (a *Attribute) DefaultValue() *Value {
	if a.Default == "" {
		return nil
	}
	a.once.Do(func() { a.fallback = a.parseDefault() })
	return a.fallback
}
