package jsonout

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"

	"tapline/compiler"
)

// systems copies what is to be written, sorts it, and makes missing lists empty
// and unwritable numbers null. Maps need no sorting: encoding/json does that.
func systems(in []compiler.SystemOutcome) []compiler.SystemOutcome {
	return sorted(in, system, func(a, b compiler.SystemOutcome) int {
		return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.Dir, b.Dir))
	})
}

func system(s compiler.SystemOutcome) compiler.SystemOutcome {
	s.Cases = sorted(s.Cases, operatingCase, func(a, b compiler.CaseOutcome) int { return cmp.Compare(a.Name, b.Name) })
	s.Checks = sorted(s.Checks, check, func(a, b compiler.CheckOutcome) int {
		return cmp.Or(cmp.Compare(a.ID, b.ID), cmp.Compare(a.Name, b.Name), cmp.Compare(a.Case, b.Case),
			cmp.Compare(a.At, b.At), cmp.Compare(a.Quantity, b.Quantity))
	})
	return s
}

func operatingCase(c compiler.CaseOutcome) compiler.CaseOutcome {
	c.After = append([]string{}, c.After...)
	c.Residual = number(c.Residual)
	c.Nodes = sorted(c.Nodes, node, func(a, b compiler.NodeOutcome) int { return cmp.Compare(a.Name, b.Name) })
	c.Devices = sorted(c.Devices, device, func(a, b compiler.DeviceOutcome) int { return cmp.Compare(a.Tag, b.Tag) })
	c.Lags = sorted(c.Lags, lag, func(a, b compiler.LagOutcome) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To))
	})
	c.Answers = sorted(c.Answers, answer, func(a, b compiler.AnswerOutcome) int { return 0 })
	return c
}

// answer keeps the order in which answers were found.
func answer(a compiler.AnswerOutcome) compiler.AnswerOutcome {
	a.Nodes = sorted(a.Nodes, func(n compiler.AnswerNode) compiler.AnswerNode {
		n.PressurePa, n.TemperatureK = number(n.PressurePa), number(n.TemperatureK)
		return n
	}, func(a, b compiler.AnswerNode) int { return cmp.Compare(a.Name, b.Name) })
	a.Devices = sorted(a.Devices, func(d compiler.AnswerDevice) compiler.AnswerDevice {
		d.Lift, d.MassFlowKgS = number(d.Lift), number(d.MassFlowKgS)
		return d
	}, func(a, b compiler.AnswerDevice) int { return cmp.Compare(a.Tag, b.Tag) })
	return a
}

func node(n compiler.NodeOutcome) compiler.NodeOutcome {
	n.Aliases = sorted(n.Aliases, func(s string) string { return s }, strings.Compare)
	n.PressurePa, n.PressureLowPa, n.PressureHighPa = number(n.PressurePa), number(n.PressureLowPa), number(n.PressureHighPa)
	n.TemperatureK, n.DensityKgM3, n.DewK = number(n.TemperatureK), number(n.DensityKgM3), number(n.DewK)
	n.Composition, n.Shares = numbers(n.Composition), numbers(n.Shares)
	return n
}

func device(d compiler.DeviceOutcome) compiler.DeviceOutcome {
	d.Lift, d.MassFlowKgS = number(d.Lift), number(d.MassFlowKgS)
	d.ReferenceFlowM3S, d.Reads = number(d.ReferenceFlowM3S), number(d.Reads)
	d.Ports = sorted(d.Ports, func(p compiler.PortOutcome) compiler.PortOutcome {
		p.PressurePa, p.TemperatureK = number(p.PressurePa), number(p.TemperatureK)
		return p
	}, func(a, b compiler.PortOutcome) int { return cmp.Compare(a.Name, b.Name) })
	for i := range d.Passages {
		w := &d.Passages[i]
		w.MassFlowKgS, w.ReferenceFlowM3S = number(w.MassFlowKgS), number(w.ReferenceFlowM3S)
	}
	if d.Settings != nil {
		d.Settings = value(d.Settings).(map[string]any)
	}
	return d
}

func lag(l compiler.LagOutcome) compiler.LagOutcome {
	l.Seconds, l.Seconds95 = number(l.Seconds), number(l.Seconds95)
	return l
}

func check(c compiler.CheckOutcome) compiler.CheckOutcome {
	c.ID = cmp.Or(c.ID, checkID(&c))
	c.Min, c.Max, c.Value, c.Margin = number(c.Min), number(c.Max), number(c.Value), number(c.Margin)
	return c
}

// checkID names a check among all of its system.
func checkID(c *compiler.CheckOutcome) string {
	parts := []string{c.Source, c.Name, c.Case}
	if c.Source != "rated" {
		parts = append(parts, c.At)
	}
	if c.Source != "rule" {
		parts = append(parts, c.Quantity)
	}
	return strings.Join(parts, "/")
}

// sorted gives a new list, never nil, of what each makes of the items of in.
func sorted[T any](in []T, each func(T) T, order func(a, b T) int) []T {
	out := make([]T, len(in))
	for i, v := range in {
		out[i] = each(v)
	}
	slices.SortStableFunc(out, order)
	return out
}

func number(v *float64) *float64 {
	if v == nil || math.IsNaN(*v) || math.IsInf(*v, 0) {
		return nil
	}
	x := *v + 0 // -0 prints as 0
	return &x
}

// numbers gives a copy of in, or nil where a number in it is not finite: half a
// composition is none.
func numbers(in map[string]float64) map[string]float64 {
	for _, v := range in {
		if number(&v) == nil {
			return nil
		}
	}
	return maps.Clone(in)
}

// value copies a setting: whatever encoding/json knows, with every number
// that it could not write turned into null.
func value(v any) any {
	switch v := v.(type) {
	case float64:
		if n := number(&v); n != nil {
			return *n
		}
		return nil
	case *float64:
		if n := number(v); n != nil {
			return *n
		}
		return nil
	case []any:
		out := make([]any, len(v))
		for i := range v {
			out[i] = value(v[i])
		}
		return out
	case map[string]any:
		out := make(map[string]any, len(v))
		for k := range v {
			out[k] = value(v[k])
		}
		return out
	}
	return v
}
