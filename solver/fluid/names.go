package fluid

import (
	"fmt"
	"math"
	"sort"
	"strings"
	"sync"
)

// Components lists the canonical names of all 65 components, sorted. GERG-2008
// covers 21 of them.
func Components() []string {
	names := make([]string, 0, substanceCount)
	for i := range substances {
		names = append(names, substances[i].name)
	}
	sort.Strings(names)
	return names
}

// IsComponent says whether name is the canonical name of a component.
func IsComponent(name string) bool {
	_, ok := substanceByName()[name]
	return ok
}

// otherNames are ways in which the trade writes components, besides canonical names
// and formulas: as plain lists, folded by foldName. Refrigerants are numbered after
// ISO 817. (Common practice.)
var otherNames = [substanceCount]string{
	methane: "c1 r50", ethane: "c2 r170", propane: "c3 r290", nButane: "nc4 butane r600", isobutane: "ic4 ibutane 2methylpropane r600a",
	nPentane: "nc5 pentane r601", isopentane: "ic5 ipentane 2methylbutane r601a", nHexane: "nc6 c6 hexane", nHeptane: "nc7 c7 heptane",
	nOctane: "nc8 c8 octane", nNonane: "nc9 c9 nonane", nDecane: "nc10 c10 decane",
	carbonDioxide: "carbonicacid r744", nitrogen: "r728", oxygen: "r732", argon: "r740", helium: "r704", hydrogen: "r702",
	water: "steam moisture watervapour watervapor r718", hydrogenSulfide: "hydrogensulphide",
	ethylene: "ethene c2= r1150", propylene: "propene c3= r1270", oneButene: "butene1 butylene1 1butylene", isobutene: "isobutylene 2methylpropene ic4=",
	propyne: "methylacetylene", ammonia: "r717", sulfurHexafluoride: "sulphurhexafluoride", sulfurDioxide: "sulphurdioxide r764",
	carbonylSulfide: "carbonylsulphide ocs", nitrousOxide: "laughinggas dinitrogenoxide r744a", neon: "r720", ethyleneOxide: "oxirane eo eto", dimethylEther: "dme ch3och3 methylether", methanol: "methylalcohol meoh ch3oh",
	ethanol: "ethylalcohol etoh c2h5oh", acetone: "propanone 2propanone ch3coch3", toluene: "methylbenzene", ethylbenzene: "phenylethane",
	orthoXylene: "orthoxylene xyleneo 12dimethylbenzene", metaXylene: "metaxylene xylenem 13dimethylbenzene", paraXylene: "paraxylene xylenep 14dimethylbenzene",
	vinylChloride: "chloroethene chloroethylene vcm", methylChloride: "chloromethane r40", r134a: "hfc134a 1112tetrafluoroethane",
	r14: "tetrafluoromethane carbontetrafluoride", acetylene: "ethyne", butadiene: "butadiene butadiene13", nitricOxide: "nitrogenmonoxide nitrogenoxide",
	hydrogenCyanide: "prussicacid hydrocyanicacid", carbonDisulfide: "carbondisulphide carbonbisulfide", silane: "monosilane",
	methanethiol: "methylmercaptan ch3sh mesh", formaldehyde: "methanal hcho h2co", styrene: "vinylbenzene phenylethene",
}

// nameIndex finds a component by folded name. It is made when first asked for.
var nameIndex = sync.OnceValue(func() map[string]int {
	index := map[string]int{}
	shared := map[string]int{}
	for i := range substances {
		shared[foldName(substances[i].formula)]++
	}
	put := func(name string, i int) {
		if had, ok := index[name]; ok && had != i {
			panic("fluid: two components are called " + name)
		}
		index[name] = i
	}
	for i := range substances {
		put(foldName(substances[i].name), i)
		if f := foldName(substances[i].formula); shared[f] == 1 {
			put(f, i)
		}
		for _, name := range strings.Fields(otherNames[i]) {
			put(name, i)
		}
	}
	return index
})

const longestName = 40

// foldName takes away what spellings differ in: case, blanks, hyphens, underscores,
// commas, brackets and lowered digits.
func foldName(s string) string {
	if len(s) > 2*longestName {
		return ""
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case strings.ContainsRune(" \t_-–,()'", r):
		case r >= '₀' && r <= '₉':
			b.WriteRune(r - '₀' + '0')
		default:
			b.WriteRune(r)
		}
	}
	return strings.ToLower(b.String())
}

// Name resolves how the trade writes a component to its canonical name: CH4, C1 and
// methane are one; nC4, n-butane and "n butane"; "carbon dioxide" and CO2; SF6; R134a.
// Case, blanks, hyphens and underscores do not matter. A formula that several
// components share, as C8H10 or C4H10, names none.
func Name(s string) (canonical string, ok bool) {
	if IsComponent(s) {
		return s, true // without the index of all that could be written
	}
	i, ok := nameIndex()[foldName(s)]
	if !ok {
		return "", false
	}
	return substances[i].name, true
}

// Spoken gives a component as one writes it in a sentence: n-hexane, carbon dioxide,
// 1,3-butadiene. What is no component comes back as it is.
func Spoken(name string) string {
	if i, ok := nameIndex()[foldName(name)]; ok {
		return spoken(i)
	}
	return name
}

// spoken is Spoken by index.
func spoken(i int) string {
	name := substances[i].name
	switch i {
	case butadiene:
		return "1,3-butadiene"
	case r134a, r14:
		return "R" + name[1:]
	}
	if head, rest, ok := strings.Cut(name, "_"); ok && len(head) == 1 {
		return head + "-" + rest
	}
	return strings.ReplaceAll(name, "_", " ")
}

// checkFractions gives the components that are present, sorted by name, and their
// mole fractions, scaled to sum to 1. The error says what is wrong.
func checkFractions(moleFractions map[string]float64) (names []string, x []float64, err error) {
	for name := range moleFractions {
		names = append(names, name)
	}
	sort.Strings(names)
	present := names[:0]
	sum := 0.0
	for _, name := range names {
		f := moleFractions[name]
		switch {
		case !IsComponent(name):
			return nil, nil, fmt.Errorf("unknown component %q; supported: %s", name, strings.Join(Components(), ", "))
		case !(f >= 0 && f <= 1): // also catches NaN
			return nil, nil, fmt.Errorf("mole fraction of %s is %g; it must be from 0 to 1", name, f)
		case f > 0:
			present = append(present, name)
			x = append(x, f)
			sum += f
		}
	}
	if math.Abs(sum-1) > sumTolerance {
		return nil, nil, fmt.Errorf("mole fractions sum to %.12g; they must sum to 1", sum)
	}
	for k := range x {
		x[k] /= sum
	}
	return present, x, nil
}
