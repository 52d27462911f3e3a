package jsonout

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"tapline/cmd/internal/sample"
	"tapline/compiler"
	"tapline/lang/diag"
)

// golden.json is what the language's definition wants for this system, field
// for field and in that order; "*" stands for any value. Its numbers come from
// a solution made apart from this program, so they are held to its tolerance.
func TestSeriesGolden(t *testing.T) {
	want, err := sample.Files.ReadFile("series/golden.json")
	if err != nil {
		t.Fatal(err)
	}
	got, err := Encode(sample.Series(), "test")
	if err != nil {
		t.Fatal(err)
	}
	if err := match(json.NewDecoder(bytes.NewReader(got)), json.NewDecoder(bytes.NewReader(want)), ""); err != nil {
		t.Errorf("%v\n%s", err, got)
	}
}

// match walks two JSON texts token by token, so that the order of keys counts.
func match(got, want *json.Decoder, at string) error {
	w, err := want.Token()
	if err != nil {
		return err
	}
	if w == "*" {
		var anything json.RawMessage
		return got.Decode(&anything)
	}
	g, err := got.Token()
	if err != nil {
		return fmt.Errorf("%s: %v", at, err)
	}
	if wn, ok := w.(float64); ok {
		gn, ok := g.(float64)
		if !ok || math.Abs(gn-wn) > 1e-9*math.Abs(wn) {
			return fmt.Errorf("%s: got %v, want %v", at, g, w)
		}
		return nil
	}
	if g != w {
		return fmt.Errorf("%s: got %v, want %v", at, g, w)
	}
	if d, ok := w.(json.Delim); ok && (d == '{' || d == '[') {
		for i := 0; want.More() || got.More(); i++ {
			inner := fmt.Sprintf("%s[%d]", at, i)
			if d == '{' {
				wk, _ := want.Token()
				gk, _ := got.Token()
				if wk != gk {
					return fmt.Errorf("%s: got key %v, want %v", at, gk, wk)
				}
				inner = fmt.Sprintf("%s.%v", at, wk)
			}
			if err := match(got, want, inner); err != nil {
				return err
			}
		}
		return match(got, want, at) // the closing bracket
	}
	return nil
}

func TestNothingIsMissing(t *testing.T) {
	got, err := Encode(&compiler.Outcome{}, "v1")
	if err != nil {
		t.Fatal(err)
	}
	if want := "{\n \"schema\": 1,\n \"tool_version\": \"v1\",\n \"systems\": [],\n \"flags\": []\n}\n"; string(got) != want {
		t.Errorf("got %s want %s", got, want)
	}
	o := &compiler.Outcome{Systems: []compiler.SystemOutcome{{Name: "s",
		Cases: []compiler.CaseOutcome{{Name: "c", Nodes: []compiler.NodeOutcome{{Name: "n"}}, Devices: []compiler.DeviceOutcome{{Tag: "d"}}, Lags: []compiler.LagOutcome{{}}}}}},
		Flags: []diag.Diagnostic{{Code: "a-code", Level: diag.Error, Related: []diag.Related{{Message: "m"}}}}}
	got, err = Encode(o, "v1")
	if err != nil {
		t.Fatal(err)
	}
	var compact bytes.Buffer
	if err := json.Compact(&compact, got); err != nil {
		t.Fatal(err)
	}
	want := `{"schema":1,"tool_version":"v1","systems":[{"name":"s","dir":"","inputs_sha256":"","reference_state":null,"atmosphere_Pa":0,` +
		`"cases":[{"name":"c","kind":"","after":[],"generated":false,"status":"","residual":null,"several_answers":null,` +
		`"nodes":[{"name":"n","aliases":[],"state":"","pressure_Pa":null,"pressure_low_Pa":null,"pressure_high_Pa":null,"temperature_K":null,"density_kg_m3":null,"composition":null,"shares":null,"phase":null,"dew_K":null}],` +
		`"devices":[{"tag":"d","kind":"","state":null,"choked":null,"fault":null,"lift":null,"mass_flow_kg_s":null,"reference_flow_m3_s":null,"reads":null,"ports":[],"settings":null}],` +
		`"lags":[{"from":"","to":"","seconds":null,"seconds_95":null}]}],"checks":[]}],` +
		`"flags":[{"id":"a-code","code":"a-code","level":"alarm","system":null,"case":null,"at":null,"message":"","value":null,"limit":null,"unit":null,"file":null,"line":null,"column":null,"end_line":null,"end_column":null,"hint":null,` +
		`"related":[{"file":null,"line":null,"column":null,"end_line":null,"end_column":null,"message":"m"}],"causes":null,"waived":false}]}`
	if compact.String() != want {
		t.Errorf("got\n%s\nwant\n%s", compact.String(), want)
	}
}

func TestNumbersThatJSONCannotSpell(t *testing.T) {
	nan, inf, zero := math.NaN(), math.Inf(1), math.Copysign(0, -1)
	o := &compiler.Outcome{Systems: []compiler.SystemOutcome{{Cases: []compiler.CaseOutcome{{
		Residual: &inf,
		Nodes:    []compiler.NodeOutcome{{PressurePa: &nan, TemperatureK: &zero, Composition: map[string]float64{"a": nan, "b": 1}}},
		Devices:  []compiler.DeviceOutcome{{Settings: map[string]any{"x": nan, "y": []any{1.0, inf, "t"}, "z": map[string]any{"p": &nan}, "n": 3}}},
	}}}}}
	got, err := Encode(o, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"residual": null`, `"pressure_Pa": null`, `"temperature_K": 0,`, `"composition": null`, `"x": null`, `"n": 3`, `"p": null`} {
		if !strings.Contains(string(got), want) {
			t.Errorf("no %s in %s", want, got)
		}
	}
}

// Sorting for print leaves the outcome as it was, and two runs give one answer.
func TestOutcomeIsNotChanged(t *testing.T) {
	for name, outcome := range sample.Outcomes {
		o := outcome()
		first, err := Encode(o, "")
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(o, outcome()) {
			t.Errorf("%s was changed", name)
		}
		if second, _ := Encode(o, ""); !bytes.Equal(first, second) {
			t.Errorf("%s printed in two ways", name)
		}
	}
}

func TestIdentities(t *testing.T) {
	ds := []diag.Diagnostic{
		{Code: "b", System: "s", Case: "c", At: "P1", Range: diag.Range{File: "f"}, Message: "2"},
		{Code: "b", System: "s", Case: "c", At: "P1", Range: diag.Range{File: "f"}, Message: "1"},
		{Code: "b", Range: diag.Range{File: "f"}},
		{Code: "b", At: "R1/NV-2"},
	}
	var ids []string
	for _, f := range flags(ds) {
		ids = append(ids, f.ID)
	}
	if want := []string{"b/R1/NV-2", "b/f", "b/s/c/P1", "b/s/c/P1#2"}; !reflect.DeepEqual(ids, want) {
		t.Errorf("got %q, want %q", ids, want)
	}
}
