package report

import "tapline/compiler"

// Multiway valves have a row for their position and one for each way through them.

// withWays gives the devices with the ways through multiway valves after each, as
// devices of their own with an inlet and an outlet.
func withWays(devices []compiler.DeviceOutcome) (out []compiler.DeviceOutcome) {
	for _, d := range devices {
		if d.Passages == nil {
			out = append(out, d)
			continue
		}
		valve := d
		valve.State, valve.Choked, valve.MassFlowKgS, valve.Ports = nil, nil, nil, nil
		out = append(out, valve)
		for _, way := range d.Ways() {
			way.Kind = ""
			out = append(out, way)
		}
	}
	return out
}

// wayAt gives the way at a port of a multiway valve that passes most, as a device; nil
// where the device is none.
func wayAt(d *compiler.DeviceOutcome, port string) *compiler.DeviceOutcome {
	ways := d.Ways()
	var most *compiler.DeviceOutcome
	for i, w := range d.Passages {
		if w.From != port && w.To != port {
			continue
		}
		if most == nil || size(w.MassFlowKgS) > size(most.MassFlowKgS) {
			most = &ways[i]
		}
	}
	return most
}

func size(w *float64) float64 {
	if w == nil {
		return 0
	}
	return max(*w, -*w)
}
