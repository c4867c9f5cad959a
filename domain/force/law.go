// Package force turns a chip into forces, torque and power by specific cutting
// force. Letters follow ISO 3002-4 and DIN 6584: kc specific cutting force, kc1.1 its
// value at h = b = 1 mm, mc its exponent, Fc cutting force, M torque, Pc power.
package force

import "math"

// Law is a specific cutting force that falls with the chip by a power,
// kc = kc1.1·h^(−mc). A constant specific energy is a law with exponent nought.
type Law struct{ SpecificForce11NPerMM2, ThicknessExp float64 }

// SpecificForceNPerMM2 returns kc = kc1.1·h^(−mc) in N/mm² at a chip of h mm.
//
// Range: h > 0; the fit's own range of h travels with its record and is judged
// there. Errors: none; h ≤ 0 gives +Inf. Source: O. Kienzle, Die Bestimmung von
// Kräften und Leistungen an spanenden Werkzeugen und Werkzeugmaschinen, VDI-Z 94
// (1952) (recalled); the contract's section 3.4.
func (l Law) SpecificForceNPerMM2(thickness float64) float64 {
	return l.SpecificForce11NPerMM2 * math.Pow(thickness, -l.ThicknessExp)
}

// Scaled returns the law with its force multiplied by a factor, kc = kc1.1·h^(−mc)·ΠK.
//
// Range: factor > 0. Errors: none. Source: O. Kienzle, VDI-Z 94 (1952) (recalled);
// the contract's section 3.4.
func (l Law) Scaled(factor float64) Law {
	l.SpecificForce11NPerMM2 *= factor
	return l
}

// EnergyLaw returns the law of a constant specific energy in J/mm³, which is the
// same number in kN/mm².
//
// Range: u > 0. Errors: none. Source: definition, 1 J/mm³ = 1000 N/mm².
func EnergyLaw(energyJPerMM3 float64) Law { return Law{SpecificForce11NPerMM2: 1000 * energyJPerMM3} }

// Tabulated is a specific energy with the feed or chip it is tabulated at and the
// exponent by which it falls with it.
type Tabulated struct{ EnergyJPerMM3, AtMM, ThicknessExp float64 }

// SpecificEnergyJPerMM3 returns the energy at another feed, u·(h/h0)^(−e), in J/mm³;
// without a reference or an exponent the tabulated number itself.
//
// Range: h > 0. Errors: none. Source: feed and chip thickness factors of handbook
// unit power tables, e.g. M. P. Groover, Fundamentals of Modern Manufacturing,
// Fig. 20.14 (about −0.29), and the feed factor of Machinery's Handbook (about
// −0.2, recalled).
func (t Tabulated) SpecificEnergyJPerMM3(thickness float64) float64 {
	if t.AtMM <= 0 || t.ThicknessExp == 0 {
		return t.EnergyJPerMM3
	}
	return t.EnergyJPerMM3 * math.Pow(thickness/t.AtMM, -t.ThicknessExp)
}
