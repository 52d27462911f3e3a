package compiler

import (
	"slices"
	"strings"

	"tapline/lang/diag"
)

// The types below are what a run knows when it is over, in SI units and in the
// order and spelling of the JSON that `check --format json` prints. A pointer
// that is nil, or a nil map, is a field not computed: it prints as null.

// Outcome is one run over one or more systems.
type Outcome struct {
	Systems []SystemOutcome
	Flags   []diag.Diagnostic
	// Sources holds every file read, by the name used in ranges, for snippets.
	Sources map[string][]byte
	// Assumptions are the values assumed where the files say nothing, one
	// sentence each, in a fixed order.
	Assumptions []string
}

// SystemOutcome is one system solved over its cases.
type SystemOutcome struct {
	Name           string         `json:"name"`
	Dir            string         `json:"dir"`
	InputsSHA256   string         `json:"inputs_sha256"`
	ReferenceState *Reference     `json:"reference_state"`
	AtmospherePa   float64        `json:"atmosphere_Pa"`
	Cases          []CaseOutcome  `json:"cases"`
	Checks         []CheckOutcome `json:"checks"`
	// Spreads are in the order of the files; left out where there is none.
	Spreads []SpreadOutcome `json:"spreads,omitempty"`

	// What only the text output needs.
	Title   string            `json:"-"`
	ShownIn map[string]string `json:"-"` // "pressure" -> "barg", filled with the defaults
	Fluids  []FluidBasis      `json:"-"` // sorted by name, then as the cases have them
}

// FluidBasis is what the properties of one fluid rest on.
type FluidBasis struct {
	Name         string
	Equation     string
	DensityError float64 // expected, relative
	Note         string
	Plain        bool // GERG-2008, and nothing to know besides
}

// Reference is a reference state of gas volumes.
type Reference struct {
	TemperatureK float64 `json:"temperature_K"`
	PressurePa   float64 `json:"pressure_Pa"`
}

// CaseOutcome is one operating case.
type CaseOutcome struct {
	Name           string          `json:"name"`
	Kind           string          `json:"kind"`
	After          []string        `json:"after"`
	Generated      bool            `json:"generated"`
	Status         string          `json:"status"` // "solved" or "unsolved"
	Residual       *float64        `json:"residual"`
	SeveralAnswers *bool           `json:"several_answers"`
	Nodes          []NodeOutcome   `json:"nodes"`
	Devices        []DeviceOutcome `json:"devices"`
	Lags           []LagOutcome    `json:"lags"`
	// Answers are further steady states of the same settings, besides the one above;
	// left out where there is none.
	Answers []AnswerOutcome `json:"answers,omitempty"`

	Trace        []string `json:"-"` // how it was solved, in sentences; where Options.Trace asks for it
	AtmospherePa float64  `json:"-"` // gauge pressures of this case are above this
}

// SpreadOutcome is what the cases of one spread come to: counts, and for each limit
// the lowest, highest and worst value with the case it is of. Cases itself are not
// kept; each can be made again by its name.
type SpreadOutcome struct {
	Name          string           `json:"name"`
	Kind          string           `json:"kind"`
	After         []string         `json:"after"`
	Of            string           `json:"of"`   // "combinations", "draws" or "rows"
	Seed          *uint64          `json:"seed"` // of draws
	Cases         int              `json:"cases"`
	Solved        int              `json:"solved"`
	Unsolved      int              `json:"unsolved"`
	UnsolvedCases []UnsolvedCase   `json:"unsolved_cases"` // the first few
	Variables     []SpreadVariable `json:"variables"`
	Limits        []SpreadLimit    `json:"limits"`
	// Confidence is that of the intervals of the shares of draws.
	Confidence *float64 `json:"confidence"`
}

// UnsolvedCase is one case of a spread without an answer, and why.
type UnsolvedCase struct {
	Case   string `json:"case"`
	Reason string `json:"reason"`
}

// SpreadVariable is one thing that a spread moves.
type SpreadVariable struct {
	Name   string `json:"name"`
	Text   string `json:"text"`   // as written
	Values *int   `json:"values"` // how many; null for draws
}

// SpreadLimit is one limit held against one value over all cases of a spread.
type SpreadLimit struct {
	Name     string   `json:"name"`
	Source   string   `json:"source"`
	At       string   `json:"at"`
	Quantity string   `json:"quantity"`
	Min      *float64 `json:"min"` // in the first case
	Max      *float64 `json:"max"`
	Judged   int      `json:"judged"`   // cases that have a value
	Inside   int      `json:"inside"`   // of these
	Unjudged int      `json:"unjudged"` // cases without a value
	// Share is Inside over Judged; of draws it is an estimate, with the interval that
	// holds the true one.
	Share     *float64     `json:"share"`
	ShareLow  *float64     `json:"share_low"`
	ShareHigh *float64     `json:"share_high"`
	Lowest    *SpreadValue `json:"lowest"`
	Highest   *SpreadValue `json:"highest"`
	Worst     *SpreadValue `json:"worst"` // of the least margin

	AtmospherePa float64 `json:"-"` // in the first case
}

// SpreadValue is a value in one case of a spread.
type SpreadValue struct {
	Case   string   `json:"case"`
	Value  float64  `json:"value"`
	Margin *float64 `json:"margin"` // distance to the nearer end of the limit

	MolarMass    float64 `json:"-"` // of what flows, for a flow
	LiquidKgM3   float64 `json:"-"`
	AtmospherePa float64 `json:"-"`
}

// NodeOutcome is one node of one case. Nodes with the same gas share Composition.
type NodeOutcome struct {
	Name           string             `json:"name"`
	Aliases        []string           `json:"aliases"`
	State          string             `json:"state"` // "flowing", "dead end", "trapped", "boundary"
	PressurePa     *float64           `json:"pressure_Pa"`
	PressureLowPa  *float64           `json:"pressure_low_Pa"`
	PressureHighPa *float64           `json:"pressure_high_Pa"`
	TemperatureK   *float64           `json:"temperature_K"`
	DensityKgM3    *float64           `json:"density_kg_m3"`
	Composition    map[string]float64 `json:"composition"`
	Shares         map[string]float64 `json:"shares"`
	Phase          *string            `json:"phase"`
	DewK           *float64           `json:"dew_K"`
}

// DeviceOutcome is one device of one case. MassFlowKgS is positive along the path.
type DeviceOutcome struct {
	Tag              string         `json:"tag"`
	Kind             string         `json:"kind"`
	State            *string        `json:"state"` // "shut", "controlling", "open", "wide open", "cycling", "reversed"
	Choked           *bool          `json:"choked"`
	Fault            *string        `json:"fault"`
	Lift             *float64       `json:"lift"`
	MassFlowKgS      *float64       `json:"mass_flow_kg_s"`
	ReferenceFlowM3S *float64       `json:"reference_flow_m3_s"`
	Reads            *float64       `json:"reads"`
	Ports            []PortOutcome  `json:"ports"`
	Settings         map[string]any `json:"settings"`
	// Passages are the ways through a multiway valve; left out for other devices.
	Passages []PassageOutcome `json:"passages,omitempty"`

	MolarMass  float64 `json:"-"` // kg/mol of the fluid that reaches it, 0 where none does
	LiquidKgM3 float64 `json:"-"` // density of the liquid that passes it, 0 of gas
}

// Device gives the device with that tag, nil where there is none: they are sorted by it.
func (c *CaseOutcome) Device(tag string) *DeviceOutcome {
	i, ok := slices.BinarySearchFunc(c.Devices, tag, func(d DeviceOutcome, tag string) int { return strings.Compare(d.Tag, tag) })
	if !ok {
		return nil
	}
	return &c.Devices[i]
}

// PassageOutcome is one way through a multiway valve. MassFlowKgS is positive from From
// to To.
type PassageOutcome struct {
	From             string   `json:"from"` // a port
	To               string   `json:"to"`
	State            *string  `json:"state"`
	Choked           *bool    `json:"choked"`
	MassFlowKgS      *float64 `json:"mass_flow_kg_s"`
	ReferenceFlowM3S *float64 `json:"reference_flow_m3_s"`

	Settings   map[string]any `json:"-"`
	MolarMass  float64        `json:"-"` // as of a device
	LiquidKgM3 float64        `json:"-"`
}

// PortOutcome is one end of a device.
type PortOutcome struct {
	Name         string   `json:"name"`
	Node         string   `json:"node"`
	PressurePa   *float64 `json:"pressure_Pa"`
	TemperatureK *float64 `json:"temperature_K"`
}

// AnswerOutcome is a further steady state of a case, and from where it was found:
// "all low", "all high", or "after lifting" of the relief devices.
type AnswerOutcome struct {
	Start   string         `json:"start"`
	Nodes   []AnswerNode   `json:"nodes"`
	Devices []AnswerDevice `json:"devices"`
}

// AnswerNode is one node of a further answer.
type AnswerNode struct {
	Name         string   `json:"name"`
	State        string   `json:"state"`
	PressurePa   *float64 `json:"pressure_Pa"`
	TemperatureK *float64 `json:"temperature_K"`
}

// AnswerDevice is one device of a further answer.
type AnswerDevice struct {
	Tag         string   `json:"tag"`
	State       string   `json:"state"`
	Lift        *float64 `json:"lift"`
	MassFlowKgS *float64 `json:"mass_flow_kg_s"`
}

// LagOutcome is the transport time from a source to a place: the mean age there of
// what comes from the source, and the time by which 95 % of a change has arrived.
type LagOutcome struct {
	From      string   `json:"from"`
	To        string   `json:"to"`
	Seconds   *float64 `json:"seconds"`
	Seconds95 *float64 `json:"seconds_95"`

	// What only the rules and the text output need.
	Reason   string       `json:"-"` // why there is none
	Part     float64      `json:"-"` // part of the mass flow there that comes from the source
	Ways     int          `json:"-"`
	Segments []LagSegment `json:"-"` // what is passed on the way
}

// LagSegment is what one part takes of a mean lag.
type LagSegment struct {
	Name     string
	Seconds  float64
	StirredS float64 // of it in a stirred volume
	Bare     bool    // a device that states no volume and is given none
}

// CheckOutcome is one limit held against one value in one case. Margin is the
// distance to the nearest limit, negative outside.
type CheckOutcome struct {
	ID       string   `json:"id"` // made when it is printed, where it is ""
	Name     string   `json:"name"`
	Source   string   `json:"source"` // "band", "allow", "rated", "rule"
	Case     string   `json:"case"`
	At       string   `json:"at"`
	Quantity string   `json:"quantity"`
	Min      *float64 `json:"min"`
	Max      *float64 `json:"max"`
	Value    *float64 `json:"value"`
	Margin   *float64 `json:"margin"`
	Status   string   `json:"status"` // "pass", "fail", "unjudged"
	WaivedBy *string  `json:"waived_by"`
}
