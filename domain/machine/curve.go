package machine

// nmPerKWPerMin is 9549, exactly: 60,000/2π.
const nmPerKWPerMin = 9549.296585513721

// MaxTorqueNm returns the largest torque of the curve at the motor, N·m: the flat
// part of a pair; of points, the torque at the first one, which holds below it.
//
// Range: a checked rating. Errors: none. Source: constant torque to the knee and
// constant power above it, the usual shape of main drives; IEC 60034-1 for the
// duty of each curve.
func (r *Rating) MaxTorqueNm() float64 {
	if len(r.Points) == 0 {
		return r.TorqueNm
	}
	best := 0.0
	for _, p := range r.Points {
		best = max(best, nmPerKWPerMin*p.PowerKW/p.SpeedPerMin)
	}
	return best
}

// TorqueNmAt returns the motor torque of the curve at a spindle speed, N·m.
//
// Range: n > 0. Errors: none. Source: as MaxTorqueNm.
func (r *Rating) TorqueNmAt(speed float64) float64 {
	if len(r.Points) == 0 {
		return min(r.TorqueNm, nmPerKWPerMin*r.PowerKW/speed)
	}
	return nmPerKWPerMin * r.PowerKWAt(speed) / speed
}

// PowerKWAt returns the motor power of the curve at a spindle speed, kW: points are
// joined by straight lines in speed, with constant torque below the first and
// constant power above the last.
//
// Range: n > 0. Errors: none. Source: as MaxTorqueNm.
func (r *Rating) PowerKWAt(speed float64) float64 {
	if len(r.Points) == 0 {
		return min(r.PowerKW, r.TorqueNm*speed/nmPerKWPerMin)
	}
	first, last := r.Points[0], r.Points[len(r.Points)-1]
	switch {
	case speed <= first.SpeedPerMin:
		return first.PowerKW * speed / first.SpeedPerMin
	case speed >= last.SpeedPerMin:
		return last.PowerKW
	}
	for i := 1; ; i++ {
		if a, b := r.Points[i-1], r.Points[i]; speed <= b.SpeedPerMin {
			return a.PowerKW + (b.PowerKW-a.PowerKW)*(speed-a.SpeedPerMin)/(b.SpeedPerMin-a.SpeedPerMin)
		}
	}
}

// LimitPowerKW returns the power that limits a cut at a speed: the rated power of a
// pair, so that below the knee torque binds; the power at that speed of points.
//
// Range: n > 0. Errors: none. Source: the contract's section 3.2.
func (r *Rating) LimitPowerKW(speed float64) float64 {
	if len(r.Points) == 0 {
		return r.PowerKW
	}
	return r.PowerKWAt(speed)
}

// Rating finds a gear's rating of a duty.
func (g *Gear) Rating(d Duty) (*Rating, bool) {
	for i := range g.Ratings {
		if g.Ratings[i].Duty == d {
			return &g.Ratings[i], true
		}
	}
	return nil, false
}

// Held returns the rating a cut is held against: the one asked for, else S1.
func (g *Gear) Held(d Duty) *Rating {
	if r, ok := g.Rating(d); ok {
		return r
	}
	r, _ := g.Rating(Continuous)
	return r
}

// Peak is the highest torque and power among ratings.
type Peak struct{ TorqueNm, PowerKW float64 }

// HighestAt returns the highest torque and power on file for a gear at a speed,
// of all ratings or of the short-term ones only; zero when there are none.
//
// Range: n > 0. Errors: none. Source: definition.
func (g *Gear) HighestAt(speed float64, shortTermOnly bool) Peak {
	var p Peak
	for i := range g.Ratings {
		r := &g.Ratings[i]
		if shortTermOnly && !r.Duty.ShortTerm() {
			continue
		}
		p.TorqueNm = max(p.TorqueNm, r.MaxTorqueNm())
		p.PowerKW = max(p.PowerKW, r.LimitPowerKW(speed))
	}
	return p
}

// Reach is a spindle speed and the duty it is wanted for.
type Reach struct {
	SpeedPerMin float64
	Duty        Duty
}

// GearFor returns the gear that reaches a speed; of several, the one with more
// torque there. It returns nil when none does.
//
// Range: n > 0. Errors: none. Source: the contract's section 3.2.
func (s *Spindle) GearFor(r Reach) *Gear {
	var best *Gear
	most := -1.0
	for i := range s.Gears {
		g := &s.Gears[i]
		if r.SpeedPerMin < g.MinSpeedPerMin || r.SpeedPerMin > g.MaxSpeedPerMin*(1+1e-9) {
			continue
		}
		if torque := g.Held(r.Duty).TorqueNmAt(r.SpeedPerMin); torque > most {
			best, most = g, torque
		}
	}
	return best
}

// KneePerMin returns the speed at which constant torque ends and constant power begins;
// of points, the first one.
//
// Range: a checked rating. Errors: none. Source: as MaxTorqueNm.
func (r *Rating) KneePerMin() float64 {
	if len(r.Points) > 0 {
		return r.Points[0].SpeedPerMin
	}
	return nmPerKWPerMin * r.PowerKW / r.TorqueNm
}

// BreaksPerMin are the speeds at which a spindle's curve changes its law: ends of gears,
// knees and points, in no order.
func (s *Spindle) BreaksPerMin() []float64 {
	var list []float64
	for i := range s.Gears {
		g := &s.Gears[i]
		list = append(list, g.MinSpeedPerMin, g.MaxSpeedPerMin)
		for k := range g.Ratings {
			r := &g.Ratings[k]
			list = append(list, r.KneePerMin())
			for _, p := range r.Points {
				list = append(list, p.SpeedPerMin)
			}
		}
	}
	return list
}
