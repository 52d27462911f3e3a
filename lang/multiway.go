package lang

import (
	"fmt"
	"slices"
	"strings"

	"tapline/lang/diag"
)

// Multiway valves: what their positions join, and each way through them as a valve of
// its own.

// A Passage is a way through a multiway valve, from one of its ports to another in the
// direction of intended flow.
type Passage struct{ From, To string }

func (p Passage) String() string { return p.From + " > " + p.To }

// A Position is one position of a multiway valve and what it joins.
type Position struct {
	Name string
	Open []Passage
}

// passage reads "a > b" and says where in the text each port stands.
func passage(text string) (p Passage, from, to [2]int, ok bool) {
	left, right, ok := strings.Cut(text, ">")
	span := func(s string, at int) (string, [2]int) {
		name := strings.TrimSpace(s)
		at += strings.Index(s, name)
		return name, [2]int{at, at + len(name)}
	}
	p.From, from = span(left, 0)
	p.To, to = span(right, len(left)+1)
	return p, from, to, ok && p.From != "" && p.To != "" && !strings.Contains(p.To, ">")
}

// passagesOf gives the ways of a list that was read without errors.
func passagesOf(v *Value) (out []Passage) {
	for _, text := range v.Texts() {
		p, _, _, _ := passage(text)
		out = append(out, p)
	}
	return out
}

// Positions gives the positions of a multiway valve as written.
func (b *Block) Positions() (out []Position) {
	if v := b.Get("positions"); v != nil {
		for _, e := range v.Map {
			out = append(out, Position{e.Key, passagesOf(e.Value)})
		}
	}
	return out
}

// Joined gives what a multiway valve joins in the position of a name.
func (b *Block) Joined(position string) []Passage {
	for _, p := range b.Positions() {
		if p.Name == position {
			return p.Open
		}
	}
	return nil
}

// Leaks gives the ways that a seat leak of a multiway valve passes in a position.
func (b *Block) Leaks(position string) (out []Passage) {
	if b.Has("leaks") {
		return passagesOf(b.Attrs["leaks"])
	}
	seen := map[Passage]bool{}
	for _, p := range b.Joined(position) {
		seen[p] = true
	}
	for _, other := range b.Positions() {
		for _, p := range other.Open {
			if !seen[p] {
				seen[p] = true
				out = append(out, p)
			}
		}
	}
	return out
}

// Stands gives the position of a multiway valve. Where it fails that is the one of
// on_failure; stays reports that it keeps the one it has outside of any case.
func (b *Block) Stands() (position string, stays bool) {
	switch fault := textOf(b, "fault"); {
	case fault == "stuck", fault == "fails" && textOf(b, "on_failure") == stay:
		return textOf(b, "position"), true
	case fault == "fails":
		return textOf(b, "on_failure"), false
	}
	return textOf(b, "position"), false
}

// Valves gives ways through a multiway valve as valves of their own, with the tags
// "TAG.from > to".
func (b *Block) Valves(ways []Passage) []*Block {
	position, _ := b.Stands()
	open := b.Joined(position)
	fault := textOf(b, "fault")
	var leaking []Passage
	if fault == "seat leak" {
		leaking = b.Leaks(position)
	}
	out := make([]*Block, len(ways))
	for i, p := range ways {
		v := &Block{Kind: valveBlock.Kind, Tag: b.Tag + "." + p.String(), Range: b.Range, KindRange: b.KindRange, TagRange: b.TagRange,
			Attrs: map[string]*Value{}, typ: valveBlock}
		for _, name := range passageAttributes {
			if b.Has(name) {
				v.Attrs[name] = b.Attrs[name]
			}
		}
		says := func(name, text string) {
			v.Attrs[name] = &Value{Range: b.TagRange, NameRange: b.TagRange, Text: text, shape: isText}
		}
		says("state", "shut")
		if slices.Contains(open, p) {
			says("state", "open")
		}
		if fault == "plugged" || slices.Contains(leaking, p) {
			says("fault", fault)
		}
		out[i] = v
	}
	return out
}

// position takes what one position joins.
func (in *interpreter) position(a *Attribute, e Entry) bool {
	if e.Key == stay || strings.TrimSpace(e.Key) == "" {
		in.found.errorf(badName, e.KeyRange, "give it another name", "no position can be called %s", show(e.Key))
		return false
	}
	if s := e.Value.shape; s != isText && s != isList {
		in.wrong(e.Value, a.example(), "a position joins a list of ways, not %s", s.words())
		return false
	}
	return in.passages(a, e.Value)
}

// passages takes a list of ways, or one. No two ports are joined twice.
func (in *interpreter) passages(a *Attribute, v *Value) bool {
	if v.shape != isList || len(v.List) > 0 {
		if !in.texts(a, v) {
			return false
		}
	}
	if v.shape == isText {
		one := *v
		v.List, v.shape = []*Value{&one}, isList
	}
	ok := true
	if len(v.List) > maxWays {
		in.found.errorf(tooLarge, v.Range, "", "a multiway valve has at most %d ways in a position", maxWays)
		return false
	}
	seen := make(map[Passage]diag.Range, len(v.List))
	for _, e := range v.List {
		if !in.plain(e, false) {
			ok = false
			continue
		}
		p, _, _, isOne := passage(e.Text)
		first, again := seen[p]
		switch {
		case !isOne:
			in.found.errorf(badPassage, e.Range, `"sample > cell"`, "a way leads from one port to another; this is %s", show(e.Text))
		case p.From == p.To:
			in.found.errorf(badPassage, e.Range, `name two ports, as in "sample > cell"`, "this joins the port %s to itself", show(p.From))
		case again:
			in.found.errorf(badPassage, e.Range, "leave it out", "%s and %s are joined already", show(p.From), show(p.To)).relate(first, "here")
		default:
			seen[p], seen[Passage{p.To, p.From}] = e.Range, e.Range
			continue
		}
		ok = false
	}
	return ok
}

// multiway holds the names in a whole block against one another.
func (c *checker) multiway(b *Block, spoilt map[string]bool) {
	if spoilt["ports"] || spoilt["positions"] || !b.Has("ports") || !b.Has("positions") {
		return
	}
	ports, positions := b.PortsOf(), b.Attrs["positions"]
	if len(ports) < 2 {
		c.found.errorf(badPassage, b.Attrs["ports"].Range, `ports = ["sample", "cal", "cell"]`, "a multiway valve has two ports or more")
		return
	}
	if len(ports) > maxPorts || len(positions.Map) > maxWays {
		c.found.errorf(tooLarge, b.Range, "make it several valves", "a multiway valve has at most %d ports and %d positions", maxPorts, maxWays)
		return
	}
	lists := []*Value{}
	names := []string{}
	for _, e := range positions.Map {
		lists, names = append(lists, e.Value), append(names, e.Key)
	}
	if b.Has("leaks") {
		lists = append(lists, b.Attrs["leaks"])
	}
	for _, list := range lists {
		for _, e := range list.List {
			p, from, to, _ := passage(e.Text)
			c.portOf(b, ports, p.From, e.Within(from[0], from[1]))
			c.portOf(b, ports, p.To, e.Within(to[0], to[1]))
		}
	}
	for _, name := range []string{"position", "on_failure"} {
		v := b.Attrs[name]
		if !b.Has(name) || v.shape != isText || slices.Contains(names, v.Text) || name == "on_failure" && v.Text == stay {
			continue
		}
		hint := c.found.meant(v.Text, names)
		if name == "on_failure" {
			hint = c.found.meant(v.Text, append(slices.Clone(names), stay))
		}
		if len(names) == 0 {
			hint = fmt.Sprintf("positions = { %s = [\"%s > %s\"] }", "measure", ports[0], ports[len(ports)-1])
		}
		c.found.errorf(unknownPosition, v.Range, hint, "%s has no position %s", b.what(), show(v.Text))
	}
}

func (c *checker) portOf(b *Block, ports []string, name string, at diag.Range) {
	if !slices.Contains(ports, name) {
		c.found.errorf(unknownPort, at, c.found.meant(name, ports), "%s has no port %s", b.what(), show(name))
	}
}
