package compiler

// NetworkDocument is a compiled network as `solve --network json` prints it.
type NetworkDocument struct {
	System   string            `json:"system"`
	Nodes    []NodeDocument    `json:"nodes"`
	Elements []ElementDocument `json:"elements"`
}

// NodeDocument is one node: Boundary is the source or vent that fixes it.
type NodeDocument struct {
	Name     string   `json:"name"`
	Aliases  []string `json:"aliases"`
	Boundary *string  `json:"boundary"`
}

// ElementDocument is one element between two nodes; Loaded is the node that its
// dome follows. A multiway valve is one element for each way through it, with the tag
// "TAG.from > to"; Valve is then its tag.
type ElementDocument struct {
	Tag    string  `json:"tag"`
	Kind   string  `json:"kind"`
	From   string  `json:"from"`
	To     string  `json:"to"`
	OneWay bool    `json:"one_way"`
	Loaded *string `json:"loaded_by"`
	Valve  string  `json:"valve,omitempty"`
}

// Document lists the network: nodes in the order of the paths, elements by tag.
func (p *Program) Document(system string) *NetworkDocument {
	d := &NetworkDocument{System: system, Nodes: []NodeDocument{}, Elements: []ElementDocument{}}
	for _, n := range p.Nodes {
		o := NodeDocument{Name: n.Name, Aliases: append([]string{}, n.Aliases...)}
		if n.Boundary >= 0 {
			o.Boundary = &p.Devices[n.Boundary].Tag
		}
		d.Nodes = append(d.Nodes, o)
	}
	for i := range p.Devices {
		v := &p.Devices[i]
		if v.Element < 0 || p.Network == nil {
			continue
		}
		o := ElementDocument{Tag: v.Tag, Kind: v.Kind, From: p.Nodes[v.In].Name, To: p.Nodes[v.Out].Name, OneWay: oneWay(v.Kind)}
		if v.Way != nil {
			o.Kind, o.Valve = "multiway", p.Devices[v.Of].Tag
		}
		if s := p.Network.Elements[v.Element].Sense; s >= 0 {
			o.Loaded = &p.Nodes[s].Name
		}
		d.Elements = append(d.Elements, o)
	}
	return d
}
