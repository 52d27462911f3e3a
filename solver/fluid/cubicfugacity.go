package fluid

import "math"

// LnPhi gives ln of the fugacity coefficient of every component, in the order of
// Fractions, on the root of the phase given:
//
//	ln phi_i = b_i/b (Z - 1) - ln(Z - B) - (2 sum_j x_j a_ij - a b_i/b) L/(2 sqrt 2 b R T)
func (c *Cubic) LnPhi(tK, pPa float64, ph Phase) ([]float64, error) {
	if err := c.inRange(tK, pPa); err != nil {
		return nil, err
	}
	out := make([]float64, len(c.x))
	if !c.kind.lnPhi(out, c.x, tK, pPa, ph) {
		return nil, c.refuse(tK, pPa, "has no %s root in the equation of state", ph)
	}
	return out, nil
}

// lnPhi is LnPhi at the mole fractions x, which need not sum to 1; it reports false
// where there is no such root.
func (k *cubicKind) lnPhi(out, x []float64, tK, pPa float64, ph Phase) bool {
	n, total := len(x), 0.0
	for _, v := range x {
		total += v
	}
	root, rt := math.Sqrt(tK), cubicR*tK
	var a, b float64
	for i, p := range k.parts {
		sum := 0.0
		for j, q := range k.parts {
			sum += x[j] * k.weight[i*n+j] * (q.f - q.g*root)
		}
		out[i] = (p.f - p.g*root) * sum / total // sum_j x_j a_ij
		a += x[i] / total * out[i]
		b += x[i] / total * p.b
	}
	bp := b * pPa / rt
	z, ok := cubicRoot(a*pPa/(rt*rt), bp, ph)
	if !ok {
		return false
	}
	l := math.Log((z+onePlusRoot2*bp)/(z+oneMinusRoot2*bp)) / (2 * math.Sqrt2 * b * rt)
	free := math.Log(z - bp)
	for i, p := range k.parts {
		out[i] = p.b/b*(z-1) - free - (2*out[i]-a*p.b/b)*l
	}
	return true
}

// present is the kind of the components with a fraction above 0, and those fractions.
func (k *cubicKind) present(x []float64) (*cubicKind, []float64) {
	var at []int
	for i, f := range x {
		if f > 0 {
			at = append(at, i)
		}
	}
	if len(at) == len(x) {
		return k, x
	}
	p, z := &cubicKind{}, make([]float64, len(at))
	for a, i := range at {
		z[a] = x[i]
		p.names = append(p.names, k.names[i])
		p.index = append(p.index, k.index[i])
		p.parts = append(p.parts, k.parts[i])
		for _, j := range at {
			p.weight = append(p.weight, k.weight[i*len(x)+j])
		}
	}
	return p, z
}

// cubicFugacities are the fugacities of a kind within the equation's range.
type cubicFugacities struct {
	*cubicKind
	lowK float64
}

func (f cubicFugacities) lnPhi(dst, x []float64, tK, pPa float64, ph Phase) bool {
	return tK >= f.lowK && tK <= highestK && pPa > 0 && pPa <= highestPa && f.cubicKind.lnPhi(dst, x, tK, pPa, ph)
}
