package compiler

import (
	"errors"

	"tapline/lang"
	"tapline/lang/quantity"
	"tapline/solver/device"
)

// A set or a droop that is stated at a flow, or at a tight seat, becomes the onset
// and the band that the law takes.

// onset gives the held pressure at which a regulator opens at its reference state,
// and the band from there to fully open. otherPa is the reference pressure on its
// other side, 0 where none is stated.
func (l *law) onset(n names, c device.Coefficient, m moved, dome *device.DomeSpec, setPa, otherPa float64) (onsetPa, bandPa float64) {
	at, band := l.b.Get("set_at"), l.b.Get(n.band)
	setMoved := at != nil && !at.Null && at.Text != "onset"
	bandMoved := m.forces == nil && band != nil && band.Quantity != nil && band.Quantity.Form == quantity.DropAtFlow
	if !setMoved && !bandMoved {
		return setPa, m.bandPa
	}
	fallback := func(v *lang.Value, code, hint, message string) (float64, float64) {
		l.errorf(code, v.Range, hint, message)
		return setPa, m.bandPa
	}
	switch curve := l.b.Nested("curve"); {
	case curve != nil && setMoved:
		return fallback(at, "conflicting-attributes", "leave it out: set is where the curve begins", "set_at does not go with a measured curve")
	case curve != nil:
		return setPa, m.bandPa
	case setMoved && dome != nil:
		return fallback(at, "conflicting-attributes", "leave it out, and state bias", "set_at goes with the set of a spring, and "+l.b.Tag+" is loaded by a dome")
	case dome != nil && dome.FixedPa == 0:
		return fallback(band, "conflicting-attributes", "state the whole "+n.band+", to full lift", "the load of "+l.b.Tag+" follows a node: at what pressures its flow was measured is not known")
	case dome != nil:
		setPa = dome.Ratio*l.settings["charge_Pa"].(float64) + (1-dome.Ratio)*l.site.AtmospherePa + dome.BiasPa
	}
	setting := device.Setting{SetPa: setPa, BandPa: m.bandPa, OtherPa: otherPa, Holder: l.b.Kind == "holder"}
	if setMoved && at.Quantity == nil { // at a tight seat
		setting.SetPa -= m.tightPa
		setMoved = false
	}
	at, ok := l.statedFlows(&setting, at, band, setMoved, bandMoved)
	switch {
	case !ok:
		return setting.SetPa, m.bandPa
	case at != nil && otherPa == 0:
		return fallback(at, "missing-attribute", n.other+` = "50 barg"`, "a flow stated of "+l.b.Tag+" needs "+n.other+" beside it")
	}
	g := &device.Gas{}
	if l.gas != nil {
		g = l.gasAt(benchK, max(otherPa, setting.SetPa))
		if g.Liquid {
			g.VapourPressurePa = 0
		}
	}
	if l.gas == nil {
		return setting.SetPa, m.bandPa
	}
	onsetPa, bandPa, err := setting.Onset(c, g)
	if err != nil {
		v, hint := at, "its flow coefficient, or "+n.other
		if errors.Is(err, device.ErrBandFlow) {
			v = band
		}
		return fallback(v, "impossible-balance", "look at "+hint, l.b.Tag+": "+err.Error()+" at its reference state")
	}
	l.settings["onset_Pa"], l.settings[n.bandPa] = onsetPa, bandPa
	return onsetPa, bandPa
}

// statedFlows reads the flows at which a set or band is stated, and gives the value
// that states one, nil for none.
func (l *law) statedFlows(s *device.Setting, at, band *lang.Value, setMoved, bandMoved bool) (stated *lang.Value, ok bool) {
	if (setMoved || bandMoved) && l.gas == nil {
		return nil, true
	}
	ok = true
	if bandMoved {
		var read bool
		s.BandFlowKgS, read = l.mass(band, band.Quantity.At, l.counted())
		stated, ok = band, ok && read
	}
	if setMoved {
		var read bool
		s.SetFlowKgS, read = l.mass(at, at.Quantity.Nominal, l.counted())
		stated, ok = at, ok && read
	}
	return stated, ok
}
