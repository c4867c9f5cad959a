package smell

import (
	"swarf/domain/machine"
)

// life finds laws by which an edge lasts longer the faster it runs, and those of
// break-in wear. Limits: common practice, no source.
func life(b *book) {
	for i := range b.Life {
		r := &b.Life[i]
		b.row()
		n, c := r.TaylorExp, r.TaylorSpeedMPerMin
		b.failIf(!n.OK || !(n.V > 0 && n.V < 1), "life", r.ID, "n %v: life falls with speed for n between 0 and 1 alone", n.V)
		if n.V > 0.6 && n.V < 1 {
			b.found(Warning, "life", r.ID, "n %v is that of break-in wear, or of ceramic", n.V)
		}
		b.failIf(c.OK && !(c.V > 0 && c.V < 10000), "life", r.ID, "C %v m/min cannot be", c.V)
	}
}

// classes checks the ranges of tool classes.
func classes(b *book) {
	for i := range b.Classes {
		c := &b.Classes[i]
		b.failIf(len(c.Operations) == 0, "class", c.ID, "does nothing")
		seen := map[string]bool{}
		for _, p := range c.Properties {
			b.row()
			b.failIf(seen[p.Name], "class", c.ID, "%s stands twice", p.Name)
			seen[p.Name] = true
			b.failIf(!p.Low.OK || !p.High.OK || p.Low.V > p.High.V, "class", c.ID, "%s: range %v to %v", p.Name, p.Low.V, p.High.V)
			b.failIf(p.Default.OK && (p.Default.V < p.Low.V || p.Default.V > p.High.V), "class", c.ID, "%s: default %v is outside %v to %v", p.Name, p.Default.V, p.Low.V, p.High.V)
		}
	}
}

// machines checks spindle curves.
func machines(b *book) {
	for i := range b.Machines {
		m := &b.Machines[i]
		top := 0.0
		if e := m.Spindle.EfficiencyRatio; e < 0.5 || e > 1 {
			b.found(Error, "machine", m.ID, "efficiency %v is outside 0.5 to 1", e)
		}
		for j := range m.Spindle.Gears {
			g := &m.Spindle.Gears[j]
			top = max(top, g.MaxSpeedPerMin)
			s1, there := g.Rating(machine.Continuous)
			b.failIf(!there, "machine", m.ID, "gear %s has no S1 rating", g.Name)
			b.failIf(g.MinSpeedPerMin >= g.MaxSpeedPerMin, "machine", m.ID, "gear %s runs from %v to %v/min", g.Name, g.MinSpeedPerMin, g.MaxSpeedPerMin)
			for k := range g.Ratings {
				b.row()
				b.curve(m.ID, g, &g.Ratings[k])
				if r := &g.Ratings[k]; there && r.Duty.ShortTerm() {
					b.failIf(peak(r) <= peak(s1), "machine", m.ID, "gear %s: %s gives %v kW, no more than S1", g.Name, r.Duty, peak(r))
				}
			}
		}
		b.failIf(top > m.Spindle.MaxSpeedPerMin, "machine", m.ID, "a gear reaches %v of %v/min", top, m.Spindle.MaxSpeedPerMin)
		if top < m.Spindle.MaxSpeedPerMin {
			b.found(Warning, "machine", m.ID, "no gear reaches the %v/min of the spindle", m.Spindle.MaxSpeedPerMin)
		}
	}
}

// peak is the largest power of a rating.
func peak(r *machine.Rating) float64 {
	most := r.PowerKW
	for _, p := range r.Points {
		most = max(most, p.PowerKW)
	}
	return most
}

// curve checks one rating: a knee inside the gear, and torque that falls above it.
func (b *book) curve(id string, g *machine.Gear, r *machine.Rating) {
	const nmPerKWPerMin = 9549 // 60,000/2π, rounded as the trade does
	if len(r.Points) == 0 {
		b.failIf(!(r.PowerKW > 0 && r.TorqueNm > 0), "machine", id, "gear %s %s: neither power and torque nor points", g.Name, r.Duty)
		knee := nmPerKWPerMin * r.PowerKW / r.TorqueNm
		b.failIf(knee >= g.MaxSpeedPerMin, "machine", id, "gear %s %s: %v kW caps the torque at %.0f/min, which the gear does not reach: power x 9549 / n lies above the torque", g.Name, r.Duty, r.PowerKW, knee)
		if knee <= g.MinSpeedPerMin {
			b.found(Warning, "machine", id, "gear %s %s: %v N.m is never there, the power caps it below the gear's %v/min", g.Name, r.Duty, r.TorqueNm, g.MinSpeedPerMin)
		}
		return
	}
	for i, p := range r.Points {
		b.failIf(!(p.SpeedPerMin > 0 && p.PowerKW > 0), "machine", id, "gear %s %s: point %v kW at %v/min", g.Name, r.Duty, p.PowerKW, p.SpeedPerMin)
		b.failIf(p.SpeedPerMin > g.MaxSpeedPerMin, "machine", id, "gear %s %s: a point at %v/min lies above the gear", g.Name, r.Duty, p.SpeedPerMin)
		if i == 0 {
			continue
		}
		before := r.Points[i-1]
		b.failIf(p.SpeedPerMin <= before.SpeedPerMin, "machine", id, "gear %s %s: speed %v/min does not rise", g.Name, r.Duty, p.SpeedPerMin)
		b.failIf(p.PowerKW/p.SpeedPerMin > before.PowerKW/before.SpeedPerMin*(1+1e-9), "machine", id,
			"gear %s %s: torque rises above %v/min, from %.1f to %.1f N.m", g.Name, r.Duty, before.SpeedPerMin,
			nmPerKWPerMin*before.PowerKW/before.SpeedPerMin, nmPerKWPerMin*p.PowerKW/p.SpeedPerMin)
	}
}
