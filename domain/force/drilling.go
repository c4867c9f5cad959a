package force

// Drilled is what the torque of a drill is made of: the law at its chip, feed per
// revolution, diameter and existing hole.
type Drilled struct {
	Law
	ThicknessMM, FeedPerRevolutionMM, DiameterMM, StartDiameterMM float64
}

// DrillingTorqueNm returns M = kc·f·(D² − d²)/8000 in N·m, all edges together.
//
// Range: d < D, h > 0. Errors: none. Source: Kienzle's law over the annulus, each
// edge at the mean radius of its width; textbook form of DIN 6584.
func DrillingTorqueNm(d Drilled) float64 {
	return d.SpecificForceNPerMM2(d.ThicknessMM) * d.FeedPerRevolutionMM *
		(d.DiameterMM*d.DiameterMM - d.StartDiameterMM*d.StartDiameterMM) / 8000
}

// DrillingForceN returns the cutting force of all edges, Fc = kc·f·(D − d)/2, in N.
//
// Range: d < D. Errors: none. Source: as DrillingTorqueNm.
func DrillingForceN(d Drilled) float64 {
	return d.SpecificForceNPerMM2(d.ThicknessMM) * d.FeedPerRevolutionMM * (d.DiameterMM - d.StartDiameterMM) / 2
}

// Thrust is a cutting force of all edges and the sine of half the point angle.
type Thrust struct{ CuttingForceN, HalfPointSineRatio float64 }

// DrillingThrustN returns a rough thrust for thinned points, half the cutting force
// times sin(σ/2), in N.
//
// Range: good to about ±40 %. Errors: none. Source: German textbook practice
// (recalled).
func DrillingThrustN(t Thrust) float64 { return 0.5 * t.CuttingForceN * t.HalfPointSineRatio }
