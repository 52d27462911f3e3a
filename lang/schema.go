package lang

// A BlockType is one row of the schema table: what a block may say.
type BlockType struct {
	Kind string
}

func (t *BlockType) defaultOf(name string) *Value { return nil }

type names struct{}
