package compiler

import (
	"fmt"
	"math"

	"tapline/lang/quantity"
	"tapline/solver"
	"tapline/solver/device"
)

// A FlowCurve is what one device does over its flow, at the states of the other
// side that the cases of a run bring about. All values are SI.
type FlowCurve struct {
	Tag, Kind string
	Held      string // what the pressure is: "outlet", "inlet" or "drop"
	Other     string // the side that a line is taken at: "inlet" or "outlet"
	Node      int    // of the held pressure, -1 for a drop
	Lifts     bool   // points have a lift
	Lines     []CurveLine
	Cases     []CaseOnCurve
	// LockUpPa is the rise above the onset at no flow of a reducer.
	LockUpPa float64
}

// A CurveLine is the law of the device at one pressure of the other side.
type CurveLine struct {
	Case    string // the first one with that state
	OtherPa float64
	Stream  quantity.Stream
	Site    quantity.Site
	Points  []CurvePoint
}

// A CurvePoint is one point of a line.
type CurvePoint struct{ FlowKgS, PressurePa, Lift float64 }

// A CaseOnCurve is where a case has the device.
type CaseOnCurve struct {
	Case    string
	Site    quantity.Site
	Stream  quantity.Stream
	OtherPa float64
	CurvePoint
}

const (
	linePoints  = 20   // steps of a line
	mostLines   = 6    // of a family
	sameState   = 2e-3 // relative distance of other pressures that count as one
	farthestOff = 0.95 // of the inlet pressure, the largest drop drawn
)

// FlowCurve gives the curve of a device. The error says, in words for the user, why
// there is none.
func (run *Run) FlowCurve(tag string) (*FlowCurve, error) {
	d, ok := run.Program.Device(tag)
	if !ok {
		return nil, fmt.Errorf("there is no device %q in %s", tag, run.Outcome.Name)
	}
	if len(d.Passages) > 0 {
		return nil, fmt.Errorf("%s is a multiway valve; one of its ways has a curve: %q", tag, run.Program.Devices[d.Passages[0]].Tag)
	}
	if d.Element < 0 {
		return nil, fmt.Errorf("%s is a %s, through which nothing is throttled: it has no curve", tag, d.Kind)
	}
	f := &FlowCurve{Tag: tag, Kind: d.Kind, Held: "drop", Other: "inlet", Node: -1}
	switch d.Kind {
	case "reducer":
		f.Held, f.Node, f.Lifts = "outlet", d.Out, true
	case "holder", "relief":
		f.Held, f.Other, f.Node, f.Lifts = "inlet", "outlet", d.In, true
	}
	for i, c := range run.Cases {
		if r := run.Results[i]; r != nil && r.Status == solver.Solved {
			run.addCase(f, d, c, r)
		}
	}
	if len(f.Lines) == 0 {
		return nil, fmt.Errorf("in no case does %s stand between pressures at which its curve can be drawn", tag)
	}
	return f, nil
}

// addCase adds the point of a case, and a line where its state is a new one and the
// device is not failed.
func (run *Run) addCase(f *FlowCurve, d *Device, c *Case, r *solver.Result) {
	in, out := r.Nodes[d.In], r.Nodes[d.Out]
	e, s := r.Elements[d.Element], &c.Solver.Devices[d.Element]
	if in.Gas == nil || !(in.PressurePa > 0) || !(out.PressurePa > 0) {
		return
	}
	stream := quantity.Stream{MolarMass: c.MolarMass(r, d), DensityKgM3: c.LiquidKgM3(r, d)}
	at := CaseOnCurve{Case: c.Name, Site: c.Site, Stream: stream, OtherPa: in.PressurePa,
		CurvePoint: CurvePoint{e.FlowKgS, in.PressurePa - out.PressurePa, e.Lift}}
	switch f.Held {
	case "outlet":
		at.PressurePa = out.PressurePa
	case "inlet":
		at.PressurePa, at.OtherPa = in.PressurePa, out.PressurePa
	}
	f.Cases = append(f.Cases, at)
	if len(f.Lines) == mostLines || s.Passage == nil || f.Lifts && s.Lift == nil || faultOf(c.Blocks[run.deviceIndex(d)]) != "" {
		return
	}
	for _, l := range f.Lines {
		if math.Abs(l.OtherPa-at.OtherPa) <= sameState*at.OtherPa {
			return
		}
	}
	line := CurveLine{Case: c.Name, OtherPa: at.OtherPa, Stream: stream, Site: c.Site}
	ref := 0.0
	if f.Lifts {
		f.LockUpPa = s.Lift.LockUpPa
		if s.Lift.Ref != 0 {
			ref = r.Nodes[run.Program.Network.Elements[d.Element].Sense].PressurePa
		}
	}
	for k := range linePoints + 1 {
		share := float64(k) / linePoints
		p, ok := f.point(s, in, at.OtherPa, ref, share)
		if ok {
			line.Points = append(line.Points, p)
		}
	}
	if len(line.Points) > 1 {
		f.Lines = append(f.Lines, line)
	}
}

func (run *Run) deviceIndex(d *Device) int { return run.Program.byTag[d.Tag] }

// point gives the point at a share of the way from shut to open, or of the largest
// drop. ok is false where the device would not pass anything forwards.
func (f *FlowCurve) point(s *solver.Device, in solver.NodeResult, otherPa, refPa, share float64) (p CurvePoint, ok bool) {
	inPa, outPa := otherPa, otherPa*(1-farthestOff*share)
	open := math.NaN()
	if f.Lifts {
		l := s.Lift
		if f.Held == "outlet" {
			outPa = (share - l.Bias - l.Up*otherPa - l.Ref*refPa) / l.Down
		} else {
			inPa, outPa = (share-l.Bias-l.Down*otherPa-l.Ref*refPa)/l.Up, otherPa
		}
		if open = share; s.Snap && share > 0 {
			open = 1
		}
		if s.Trim != nil {
			open, _ = s.Trim.Open(min(share, s.Trim.EndAt(inPa, outPa)), inPa, outPa)
		}
	}
	if !(outPa > 0) || !(inPa > outPa) && share > 0 {
		return p, false
	}
	p = CurvePoint{0, inPa - outPa, open}
	switch f.Held {
	case "outlet":
		p.PressurePa = outPa
	case "inlet":
		p.PressurePa = inPa
	}
	if share == 0 {
		return p, true
	}
	g, _, err := solver.GasAt(in.Gas, in.TemperatureK, inPa)
	if err != nil {
		return p, false
	}
	p.FlowKgS = flowOf(s.Passage, inPa, outPa, &g)
	if f.Lifts {
		p.FlowKgS *= open
	}
	return p, !math.IsNaN(p.FlowKgS)
}

func flowOf(law device.Law, inPa, outPa float64, g *device.Gas) float64 {
	return law.Flow(inPa, outPa, g).W
}

// Bounds gives the narrowest band that the system's own bands and allow blocks set
// on the held pressure in any operating case, NaN where there is none.
func (f *FlowCurve) Bounds(run *Run) (lowPa, highPa float64) {
	lowPa, highPa = math.NaN(), math.NaN()
	if f.Node < 0 {
		return lowPa, highPa
	}
	node := run.Program.Nodes[f.Node]
	names := map[string]bool{node.Name: true, "(" + node.Name + ")": true, f.Tag: true}
	for _, a := range node.Aliases {
		names[a], names["("+a+")"] = true, true
	}
	for _, k := range run.Outcome.Checks {
		own := k.Source == "allow" && k.At == f.Tag && k.Quantity == f.Held+"_pressure"
		if !own && !(k.Source == "band" && names[k.At] && k.Quantity == "pressure") {
			continue
		}
		if k.Min != nil && !(lowPa >= *k.Min) {
			lowPa = *k.Min
		}
		if k.Max != nil && !(highPa <= *k.Max) {
			highPa = *k.Max
		}
	}
	return lowPa, highPa
}
