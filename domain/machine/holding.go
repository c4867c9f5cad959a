package machine

import (
	"cmp"

	"swarf/domain/unit"
)

// WorkHolding is how the part is held.
type WorkHolding struct {
	Kind           string
	MaxSpeedPerMin unit.Opt
	JawsCount      unit.Opt
	JawMassKg      unit.Opt
	JawRadiusMM    unit.Opt
	GripDiameterMM unit.Opt
	FrictionRatio  unit.Opt
	StaticGripN    unit.Opt
	SafetyRatio    unit.Opt
	Catcher        *bool
}

// Over lays a holding over another: what this one does not say is taken from below.
func (w WorkHolding) Over(under *WorkHolding) WorkHolding {
	w.Kind = cmp.Or(w.Kind, under.Kind)
	w.Catcher = cmp.Or(w.Catcher, under.Catcher)
	for _, x := range []struct{ own, below *unit.Opt }{
		{&w.MaxSpeedPerMin, &under.MaxSpeedPerMin}, {&w.JawsCount, &under.JawsCount}, {&w.JawMassKg, &under.JawMassKg},
		{&w.JawRadiusMM, &under.JawRadiusMM}, {&w.GripDiameterMM, &under.GripDiameterMM}, {&w.FrictionRatio, &under.FrictionRatio},
		{&w.StaticGripN, &under.StaticGripN}, {&w.SafetyRatio, &under.SafetyRatio},
	} {
		if !x.own.OK {
			*x.own = *x.below
		}
	}
	return w
}
