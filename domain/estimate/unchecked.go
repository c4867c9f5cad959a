package estimate

// asked lists what the request brings that no check here uses, so that silence is
// never taken for assent.
func (e *Estimate) asked() {
	c := e.Cut
	for _, x := range []struct {
		given        bool
		check, needs string
	}{
		{c.Target.ToleranceMM != nil && !e.Deflection.ToolMM.OK, "tolerance", "a side force on a tool of known length and diameter"},
		{c.Target.RaUM != nil || c.Target.RzUM != nil, "target_finish", "a person's comparison with finish; theory leaves out built-up edge, runout and vibration"},
		{c.Stock.State != "", "stock.state", "a person's judgement of " + c.Stock.State + " stock"},
		{c.Rotary != nil && (c.Rotary.DegPerMM == nil || c.Rotary.MaxRateDegPerMin == nil), "rotary", "rotary.degrees_per_length and rotary.max_rate"},
	} {
		if x.given {
			e.unchecked(x.check, x.needs)
		}
	}
}
