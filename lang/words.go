package lang

import (
	"strings"
	"sync"
)

// tradeWords are other words of the trade for what a block stands for, with what
// to write. They are hints only: a file has one word for each thing.
var tradeWords = sync.OnceValue(func() map[string]string {
	return map[string]string{
		"regulator":               "reducer for the pressure after it, holder for the pressure before it",
		"pressure_regulator":      "reducer for the pressure after it, holder for the pressure before it",
		"pressure_reducer":        "reducer",
		"reducing_valve":          "reducer",
		"back_pressure_regulator": "holder",
		"bpr":                     "holder",
		"needle_valve":            "valve",
		"ball_valve":              "valve",
		"plug_valve":              "valve",
		"shutoff_valve":           "valve",
		"solenoid_valve":          "valve",
		"three_way_valve":         "multiway",
		"selector_valve":          "multiway",
		"selector":                "multiway",
		"changeover_valve":        "multiway",
		"double_block_and_bleed":  "multiway, with in, out and bleed among its ports",
		"relief_valve":            "relief",
		"safety_valve":            "relief",
		"rupture_disc":            `relief, with action = "disc"`,
		"non_return_valve":        "check_valve",
		"rotameter":               "meter",
		"flowmeter":               "meter",
		"flow_meter":              "meter",
		"flow_indicator":          "meter",
		"mfc":                     "flow_controller",
		"mass_flow_controller":    "flow_controller",
		"analyser":                "analyzer",
		"detector":                "analyzer",
		"pipe":                    "tube",
		"hose":                    "tube",
		"tubing":                  "tube",
		"capillary":               "orifice, with a length",
		"strainer":                "filter",
		"pot":                     "vessel",
		"tank":                    "vessel",
		"cylinder":                "source",
		"supply":                  "source",
		"flare":                   "vent",
		"atmosphere":              "vent",
		"pressure_gauge":          "gauge",
		"manometer":               "gauge",
		"gas":                     "fluid",
		"limit":                   "band",
		"scenario":                "case",
		"node":                    "no block: a node is a label in a path, (P1)",
	}
})

// tradeWord gives what to write for a word of the trade, or "".
func tradeWord(kind string) string {
	if write := tradeWords()[strings.ReplaceAll(strings.ToLower(kind), "-", "_")]; write != "" {
		return "write " + write
	}
	return ""
}
