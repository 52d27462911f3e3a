package compiler

import (
	"fmt"
	"math"

	"tapline/lang"
	"tapline/lang/quantity"
	"tapline/solver/device"
	"tapline/solver/fluid"
)

// What loads a regulator beside or in place of a spring: a dome that follows a node, or
// one that is charged and shut off.
//
// The gas of a charged dome keeps its volume, so its pressure follows its temperature:
// that of the surroundings in each case, from the one it was charged at (charged_at, else
// that of the base). Without a fluid named in charged_with it is an ideal gas,
// p = p_c T/T_c, else one of that fluid's density. Its absolute pressure keeps when the
// atmosphere changes: a gauge pressure counts from the base's. The movement of the
// diaphragm is in the dome's stiffness (balance.go). A dome that a supply keeps at a
// pressure is no charged one: it follows the node of that supply.

// dome reads a loading block: nil for the plain spring of the set.
func (l *law) dome() (dome *device.DomeSpec, spring float64) {
	n := l.b.Nested("loading")
	if n == nil {
		return nil, l.number("set", "set_Pa")
	}
	if !n.Has("dome") {
		spring = l.value(n, "set") + l.value(n, "bias")
		l.settings["set_Pa"] = spring
		l.idleCharge(n)
		return nil, spring
	}
	dome = &device.DomeSpec{Ratio: l.value(n, "ratio"), BiasPa: l.value(n, "bias")}
	l.settings["ratio"], l.settings["bias_Pa"] = dome.Ratio, dome.BiasPa
	if v := n.Get("dome"); v.Quantity != nil {
		l.charged = dome
		dome.FixedPa = l.charge(n, v)
		l.settings["dome_Pa"] = dome.FixedPa
	} else {
		l.idleCharge(n)
	}
	return dome, 0
}

// idleCharge says which attributes of a charge are not used: a case may have another
// loading in its place.
func (l *law) idleCharge(n *lang.Block) {
	for _, name := range []string{"charged_at", "charged_with"} {
		if n.Has(name) {
			l.assume("the " + name + " of " + l.b.Tag + " is not used where its dome is not charged to a pressure")
		}
	}
}

// charge is the pressure [Pa] of a charged dome in this case.
func (l *law) charge(n *lang.Block, v *lang.Value) float64 {
	site, at := l.home()
	chargedPa := v.Quantity.Nominal.PressurePa(site)
	if !(chargedPa > 0) {
		chargedPa = v.Quantity.Nominal.PressurePa(l.site) // refused or plausible in this case
	}
	stated, isStated := l.nominal(n, "charged_at")
	if isStated {
		at = stated
	}
	l.settings["charge_Pa"], l.settings["charged_K"], l.settings["dome_K"] = chargedPa, at, l.ambientK
	if l.ambientK == at || !(at > 0) {
		return chargedPa
	}
	if !isStated {
		l.assume(fmt.Sprintf("the dome of %s is taken to have been charged at the ambient temperature of the base case, %.4g degC, and to take on that of each case", l.b.Tag, at-273.15))
	}
	with := n.Get("charged_with")
	if with == nil || with.Null {
		return chargedPa * l.ambientK / at
	}
	f := l.fluid(with.Text)
	if f == nil {
		return chargedPa // reported
	}
	p, err := isochore(f, at, chargedPa, l.ambientK)
	if err != nil {
		l.errorf("charge-state", with.Range, "look at the pressure, the temperatures and the fluid of the charge",
			fmt.Sprintf("the charge of the dome of %s is no gas all the way from %.4g to %.4g degC: %v", l.b.Tag, at-273.15, l.ambientK-273.15, err))
		return chargedPa
	}
	return p
}

// isochore is the pressure [Pa] at which a gas has at toK the density it has at fromK and
// fromPa.
func isochore(f fluid.Composed, fromK, fromPa, toK float64) (float64, error) {
	if f.Basis().Phase == fluid.Liquid {
		return 0, fmt.Errorf("it is a liquid")
	}
	want, _, err := f.Density(fromK, fromPa)
	if err != nil {
		return 0, err
	}
	p := fromPa * toK / fromK
	for range 100 {
		rho, exponent, err := f.Density(toK, p)
		if err != nil {
			return 0, err
		}
		if math.Abs(want/rho-1) < 1e-13 {
			return p, nil
		}
		p *= math.Pow(want/rho, 1/exponent) // exponent: d ln rho/d ln p
	}
	return p, nil
}

// homeOf gives the site and the ambient temperature of the base.
func homeOf(d *lang.Description) (quantity.Site, float64) {
	r, _ := d.Unset().Resolve("base")
	return siteOf(r.Site)
}
