package fluid

import (
	"fmt"
	"sort"
	"strings"
)

// Basis says what the numbers rest on: the expected error of density, the pairs for
// which there is no published interaction parameter, and constants that are not from
// a reference.
func (c *Cubic) Basis() Basis {
	b := Basis{Equation: "Peng-Robinson", Phase: Gas}
	var handbook, vapours []string
	nearly := ""
	cpLow, dense, denser, cooling := 15, 7, 20, 0.0
	for k, i := range c.kind.index {
		if c.x[k] == 0 {
			continue
		}
		b.DensityError += c.x[k] * cubicError(i)
		if substances[i].memory {
			handbook = append(handbook, spoken(i))
		}
		if substances[i].tC > vapourTc && c.x[k] > vapourShare {
			vapours = append(vapours, spoken(i))
			cooling = max(cooling, coolingShort(i))
		}
		if associates(i) && c.x[k] > vapourShare {
			cpLow = 40
		}
		if farOff(i) && c.x[k] > vapourShare {
			dense, denser = 9, 30
		}
		if c.only < 0 && c.x[k] > nearlyPure && hasSaturation(i) {
			nearly = spoken(i)
		}
	}
	notes := []string{fmt.Sprintf(cubicNote, dense, denser, cpLow)}
	if len(vapours) > 0 {
		notes = append(notes, fmt.Sprintf(vapourNote, list(vapours, 4, "component"), int(100*cooling+0.5)))
	}
	if c.only < 0 {
		b.DensityError += cubicMixing
		if pairs := c.kind.withoutInteraction(c.x); len(pairs) > 0 {
			notes = append(notes, "no published interaction parameter, taken as 0, for "+list(pairs, 4, "pair"))
		}
	}
	if nearly != "" {
		notes = append(notes, fmt.Sprintf(nearlyNote, nearly))
	}
	if len(handbook) > 0 {
		notes = append(notes, "handbook constants without a reference for "+list(handbook, 4, "substance"))
	}
	if c.dimer >= 0 {
		notes = append(notes, "nitrogen dioxide is taken as single molecules")
	}
	b.Note = strings.Join(notes, "; ")
	return b
}

const (
	cubicNote = "gas above a sixth of its critical density errs up to %d %% in density, beyond its critical pressure up to %d %%; " +
		"near saturation heat capacity is up to %d %% too low"
	vapourNote = "cooling of the vapour of %s by throttling comes out up to %d %% too small"
	nearlyNote = "%s stated alone has an equation of its own, far better"
	// nearlyPure is the mole fraction from which that is worth saying.
	nearlyPure = 0.95
	// A component of this critical temperature and share can be such a vapour.
	vapourTc    = 300.0
	vapourShare = 0.1
)

// list joins words, the first few only.
func list(words []string, most int, one string) string {
	if more := len(words) - most; more > 0 {
		return strings.Join(words[:most], ", ") + fmt.Sprintf(" and %d more %ss", more, one)
	}
	return strings.Join(words, ", ")
}

// withoutInteraction lists the pairs present that have no published parameter, those
// with the greatest product of fractions first.
func (k *cubicKind) withoutInteraction(x []float64) []string {
	type pair struct {
		name   string
		weight float64
	}
	var pairs []pair
	for i := range x {
		for j := i + 1; j < len(x); j++ {
			if _, ok := interactionOf()[pairKey(k.index[i], k.index[j])]; !ok && x[i]*x[j] > 0 {
				pairs = append(pairs, pair{spoken(k.index[i]) + " with " + spoken(k.index[j]), x[i] * x[j]})
			}
		}
	}
	sort.SliceStable(pairs, func(a, b int) bool { return pairs[a].weight > pairs[b].weight })
	names := make([]string, len(pairs))
	for i, p := range pairs {
		names[i] = p.name
	}
	return names
}

// What the constants from memory add to the expected error, and mixing, is own
// judgement.
const (
	cubicMemory = 0.01
	cubicMixing = 0.005
)

// cubicError is the expected error of density of thin gas (State.InNormalRange), from
// the comparison with better equations in the tests, rounded up; for what associates and
// has none, own judgement.
func cubicError(i int) float64 {
	e := 0.025
	switch i {
	case chlorine, hydrogenChloride, ethyleneOxide, water:
		e = 0.035
	case ammonia, ethanol:
		e = 0.045
	case hydrogenCyanide, formaldehyde, nitricOxide, nitrogenDioxide:
		e = 0.05
	case acetone:
		e = 0.06
	case methanol:
		e = 0.085
	}
	if substances[i].memory {
		e += cubicMemory
	}
	return e
}

// farOff says whether dense gas of a substance errs by more than most.
func farOff(i int) bool {
	return associates(i) || i == acetone || i == chlorine || i == hydrogenChloride
}

// coolingShort is how much too small the Joule-Thomson coefficient of a vapour well
// below its critical temperature can come out, relative: the tests' comparison with
// better equations, rounded up, and of what they do not have the worst.
func coolingShort(i int) float64 {
	switch i {
	case ammonia, water, ethanol, acetone:
		return 0.75
	case methanol, hydrogenCyanide, formaldehyde, nitricOxide, nitrogenDioxide:
		return 0.95
	}
	return 0.6
}

// associates says whether the molecules of a substance stick together in pairs and more.
func associates(i int) bool {
	switch i {
	case ammonia, water, methanol, ethanol, hydrogenCyanide, formaldehyde, nitricOxide, nitrogenDioxide:
		return true
	}
	return false
}
