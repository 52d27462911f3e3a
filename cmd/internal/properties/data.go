package properties

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strconv"

	"tapline/cmd/internal/jsonout"
	"tapline/lang"
)

// Schema is the number of the layout of JSON.
const Schema = 1

// An object is a JSON object whose keys keep their order.
type object []field

type field struct {
	key   string
	value any
}

func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, f := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		key, err := json.Marshal(f.key)
		if err != nil {
			return nil, err
		}
		value, err := json.Marshal(f.value)
		if err != nil {
			return nil, err
		}
		b.Write(key)
		b.WriteByte(':')
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// JSON writes states as one object, all values in SI; what is not known is null.
func (f *Fluid) JSON(states []State, toolVersion string) ([]byte, error) {
	basis := f.Composed.Basis()
	names, x := f.Composed.Fractions()
	var composition object
	for i, n := range names {
		composition = append(composition, field{n, x[i]})
	}
	list := make([]object, len(states))
	for i := range states {
		list[i] = f.object(&states[i])
	}
	notes := f.Notes
	if notes == nil {
		notes = []string{}
	}
	return jsonout.Indent(object{
		{"schema", Schema}, {"tool_version", toolVersion}, {"fluid", f.Name}, {"case", orNull(f.Case)},
		{"equation", basis.Equation}, {"phase", basis.Phase.String()}, {"density_error", positive(basis.DensityError)}, {"note", orNull(basis.Note)},
		{"molar_mass_kg_mol", f.Composed.MolarMass()}, {"composition", composition},
		{"atmosphere_Pa", positive(f.AtmospherePa)}, {"notes", notes}, {"states", list},
	})
}

func (f *Fluid) object(s *State) object {
	o := object{{"pressure_Pa", s.PressurePa}, {"temperature_K", s.TemperatureK}, {"phase", orNull(s.Phase)}}
	for _, p := range lang.Properties() {
		var value any
		if x, ok := s.Values[p.Key]; ok {
			value = x
		}
		o = append(o, field{p.Key, value})
	}
	var phi any
	if s.LnPhi != nil {
		var each object
		names, _ := f.Composed.Fractions()
		for i, n := range names {
			each = append(each, field{n, s.LnPhi[i]})
		}
		phi = each
	}
	var frost any
	if _, ok := s.Values["water_dew_K"]; ok {
		frost = s.Frost
	}
	return append(o, field{"frost", frost}, field{"first_drop_mostly", orNull(s.Mostly)}, field{"no_hydrocarbon_dew", orNull(s.Undewed)}, field{"ln_phi", phi}, field{"refused", orNull(s.Refused)})
}

func orNull(text string) any {
	if text == "" {
		return nil
	}
	return text
}

func positive(x float64) any {
	if !(x > 0) {
		return nil
	}
	return x
}

// CSV writes a line for each state, all values in SI; what is not known is empty.
func (f *Fluid) CSV(states []State) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	names, _ := f.Composed.Fractions()
	head := []string{"pressure_Pa", "temperature_K", "phase"}
	for _, p := range lang.Properties() {
		head = append(head, p.Key)
	}
	for _, n := range names {
		head = append(head, "ln_phi_"+n)
	}
	lines := [][]string{append(head, "refused")}
	number := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
	for i := range states {
		s := &states[i]
		line := []string{number(s.PressurePa), number(s.TemperatureK), s.Phase}
		for _, p := range lang.Properties() {
			cell := ""
			if x, ok := s.Values[p.Key]; ok {
				cell = number(x)
			}
			line = append(line, cell)
		}
		for k := range names {
			cell := ""
			if s.LnPhi != nil {
				cell = number(s.LnPhi[k])
			}
			line = append(line, cell)
		}
		lines = append(lines, append(line, s.Refused))
	}
	if err := w.WriteAll(lines); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
