package lang

import (
	"slices"
	"strings"
)

// upsets = "each device alone" adds one upset case for each device and credible
// fault, named TAG FAULT. Credible are those that need no further number and
// change something: a fault that needs a size, such as a seat leak, comes where the
// block states the size outside of cases. A valve that is fully open cannot fail
// wide open, one that is shut cannot fail shut, and a locked one stays where it is.
// A multiway valve fails to the position that its on_failure names, if that is another.
// Stuck is where the base has it, and so no upset by itself. A relief device that
// fails shut alone changes nothing either: that is two faults. Tubes written in
// paths without a name are left out.

// credible lists the faults of one device.
func credible(b *Block) (faults []string) {
	built, _ := b.typ.Faults()
	is := func(name string) bool { v := b.Get(name); return v != nil && v.Flag }
	if (b.typ.Kind == "valve" || b.typ.Kind == "multiway") && is("locked") || is("spare") {
		return nil
	}
	sized := b.Has("leak_cv") || b.Has("leak")
	shutIs := slices.Contains(built, "shut")
	for _, f := range built {
		switch f {
		case "wide open":
			if b.Kind == "valve" && wideOpen(b) {
				continue
			}
		case "shut":
			if b.Kind == "relief" || b.Kind == "valve" && textOf(b, "state") == "shut" {
				continue
			}
		case "plugged":
			if shutIs {
				continue // the same to the network
			}
		case "seat leak", "diaphragm leak":
			if !sized {
				continue
			}
		case "fails":
			// To what the two faults above are for other kinds.
			if b.Kind != "multiway" || !b.Has("on_failure") || textOf(b, "on_failure") == stay || textOf(b, "on_failure") == textOf(b, "position") {
				continue
			}
		case "loading lost":
		default:
			continue
		}
		faults = append(faults, f)
	}
	return faults
}

func wideOpen(b *Block) bool {
	v := b.Get("opening")
	return textOf(b, "state") != "shut" && (v == nil || v.Quantity == nil || v.Quantity.Nominal.SI >= 1)
}

// upsets makes the cases.
func (d *Description) upsets(found *collector) {
	if d.System == nil || !d.System.Has("upsets") {
		return
	}
	at := d.System.Attrs["upsets"]
	blocks := slices.Clone(d.Blocks)
	for _, b := range d.names.inline {
		if !strings.Contains(b.Tag, "~") {
			blocks = append(blocks, b)
		}
	}
	for _, b := range blocks {
		if !b.typ.InPath() || b.typ.Attribute("fault") == nil {
			continue
		}
		for _, f := range credible(b) {
			name := b.Tag + " " + f
			if d.names.cases[name] != nil {
				continue // written out, and then as the files have it
			}
			if len(d.Cases) == maxCases {
				found.errorf(tooLarge, at.Range, "write out the cases that matter", "with one case for each device and fault there are more than %d cases", maxCases)
				return
			}
			fault := &Value{Range: at.Range, NameRange: at.NameRange, Text: f, shape: isText, overlaid: true}
			c := &Case{Name: name, Kind: "upset", Generated: true, Range: at.Range, Blocks: []*Block{{
				Kind: b.Kind, Tag: b.Tag, Range: at.Range, KindRange: at.Range, TagRange: at.Range, typ: b.typ, Attrs: map[string]*Value{"fault": fault},
			}}}
			d.names.cases[name] = c
			d.Cases = append(d.Cases, c)
		}
	}
}

// Overlays gives all that may be laid over the base: the cases, and the settings
// of With, and the spreads.
func (d *Description) Overlays() []*Case {
	out := slices.Concat(d.Cases, d.always)
	for _, s := range d.Spreads {
		out = append(out, &s.Case)
		out = append(out, s.faults()...)
	}
	return out
}
