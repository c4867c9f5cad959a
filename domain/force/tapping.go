package force

// Shares of friction in making threads, middles of their ranges: a cutting tap 1.3 to 2, a
// forming tap 1.5 to 2.5 times a cutting one. Common practice, no source.
const (
	TappingFrictionRatio = 1.65
	FormingRatio         = 2.0
)

// Spreads that those ranges add to the spread of the force data: a range taken as the
// middle 90 % of a log-normal quantity, ln(high/low)/(2·1.645).
const (
	TappingSpreadRatio = 0.131 // ln(2/1.3)
	FormingSpreadRatio = 0.203 // with ln(2.5/1.5) on top
)

// Tapped is what the torque of a tap is made of: the law at its chip, the section of the
// groove, nominal and hole diameter, and the friction of the edges that follow.
type Tapped struct {
	Law
	ThicknessMM, AreaMM2, NominalMM, HoleMM, FrictionRatio float64
}

// TappingTorqueNm returns M = kc·A·(D + D0)/4,000 × friction, in N·m.
//
// Range: D0 < D, h > 0. Errors: none. Source: Kienzle's law over the groove's section at
// the mean radius; friction is common practice, no source.
func TappingTorqueNm(t Tapped) float64 {
	return t.SpecificForceNPerMM2(t.ThicknessMM) * t.AreaMM2 * (t.NominalMM + t.HoleMM) / 4000 * t.FrictionRatio
}
