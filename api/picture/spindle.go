package picture

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"

	"swarf/api/wire"
	"swarf/domain/estimate"
	"swarf/domain/force"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// Spindle draws the torque and the power that a machine's main drive leaves for cutting, by
// speed, gear and rating, and, where there is one, what a cut asks of it with a sharp and
// with a worn edge. A mark is under the curve that the cut is held against exactly when the
// limits of torque and of power both hold.
//
// Range: a checked machine; e may be nil. Source: the contract's section 3.2.
func Spindle(m *machine.Machine, e *estimate.Estimate, about About) *Picture {
	name := m.Name
	if name == "" {
		name = "the machine"
	}
	system := about.System
	about = about.with("What the drive leaves for cutting, at the tool: rated power less " + wire.Written(unit.Power, m.Spindle.IdlePowerKW, system) + " idle power, times an efficiency of " + wire.Short(m.Spindle.EfficiencyRatio) + ".")
	torque := chart("", "torque, "+unit.Torque.Label(system))
	power := chart("spindle speed, "+unit.Rotation.Label(system), "power, "+unit.Power.Label(system))
	out := &Picture{Title: "Torque and power for cutting: " + name, about: about, panels: []*plot.Plot{torque, power}, tall: 440}
	torque.Add(grid())
	power.Add(grid())
	slowest := m.Spindle.MaxSpeedPerMin / 100
	for i := range m.Spindle.Gears {
		slowest = min(slowest, max(m.Spindle.Gears[i].MinSpeedPerMin, slowest/5))
	}
	if e != nil {
		slowest = min(slowest, e.Motion.SpindleSpeedPerMin*0.9)
	}
	for i := range m.Spindle.Gears {
		g := &m.Spindle.Gears[i]
		for j := range g.Ratings {
			r := &g.Ratings[j]
			t, p := curves(m, g, r, slowest, system)
			s := stroke{inks[i%len(inks)], 1.3, dashes[j%len(dashes)]}
			words := gearLabel(m, g) + r.Duty.String()
			if held(e, g, r) {
				s.width, words = 2.8, words+" (held against)"
			}
			a := line(t, s)
			torque.Add(a)
			power.Add(line(p, s))
			out.key = append(out.key, entry{words, a})
		}
	}
	out.Says = fmt.Sprintf("%s, %d gears, to %s", name, len(m.Spindle.Gears), wire.Written(unit.Rotation, m.Spindle.MaxSpeedPerMin, system))
	if e != nil && e.HasLoads {
		out.demand(e, torque, power)
	}
	for _, p := range out.panels {
		p.X.Scale, p.X.Tick.Marker = plot.LogScale{}, decades{}
		p.X.Min, p.Y.Min = slowest, 0
		p.X.Max, p.Y.Max = m.Spindle.MaxSpeedPerMin*1.04, p.Y.Max*1.08
	}
	torque.X.Tick.Marker = blank{decades{}}
	return out
}

// held reports the rating that the cut is held against.
func held(e *estimate.Estimate, g *machine.Gear, r *machine.Rating) bool {
	return e != nil && e.Machine != nil && e.Machine.Gear == g && e.Machine.Rating == r.Duty
}

func gearLabel(m *machine.Machine, g *machine.Gear) string {
	if len(m.Spindle.Gears) == 1 {
		return ""
	}
	return "gear " + g.Name + ", "
}

// curves are what a rating leaves for cutting, at even ratios of speed and where it bends.
func curves(m *machine.Machine, g *machine.Gear, r *machine.Rating, slowest float64, system unit.System) (torque, power plotter.XYs) {
	low, high := max(g.MinSpeedPerMin, slowest), g.MaxSpeedPerMin
	speeds := []float64{}
	const samples = 120
	for i := 0.0; i <= samples; i++ {
		speeds = append(speeds, low*math.Pow(high/low, i/samples))
	}
	for _, n := range estimate.Knees(m, r) {
		if n > low && n < high {
			speeds = append(speeds, n)
		}
	}
	slices.Sort(speeds)
	for _, n := range speeds {
		t := estimate.TorqueAllowedNm(m, r, n)
		torque = append(torque, plotter.XY{X: n, Y: unit.Torque.FromMetric(system, t)})
		power = append(power, plotter.XY{X: n, Y: unit.Power.FromMetric(system, force.PowerKW(force.Rotating{TorqueNm: t, SpindleSpeedPerMin: n}))})
	}
	return torque, power
}

// demand marks what a cut asks: of torque and power, sharp and worn, and the peak of a turn.
func (p *Picture) demand(e *estimate.Estimate, torque, power *plot.Plot) {
	n, worn, system := e.Motion.SpindleSpeedPerMin, e.Worn(), p.about.System
	at := func(q unit.Quantity, v float64) plotter.XY { return plotter.XY{X: n, Y: q.FromMetric(system, v)} }
	drop := func(to plotter.XY) *plotter.Line {
		return line(plotter.XYs{{X: n, Y: 0}, to}, stroke{ink, 0.8, []float64{1, 2}})
	}
	sharp, dull := mark(at(unit.Torque, e.Sharp.TorqueNm), hollow{}), mark(at(unit.Torque, worn.TorqueNm), pyramid{})
	p.key = append(p.key, entry{"the cut, sharp edge", sharp}, entry{"worn edge", dull})
	p.Says += fmt.Sprintf("; the cut runs at %s with %s, worn %s", wire.Written(unit.Rotation, n, system), wire.Written(unit.Torque, e.Sharp.TorqueNm, system), wire.Written(unit.Torque, worn.TorqueNm, system))
	torque.Add(drop(at(unit.Torque, max(worn.TorqueNm, worn.TorquePeakNm))))
	if worn.TorquePeakNm > worn.TorqueNm*1.001 {
		peak := mark(at(unit.Torque, worn.TorquePeakNm), summit{})
		torque.Add(peak)
		p.key = append(p.key, entry{"peak of a turn, worn edge", peak})
		p.Says += ", at the peak of a turn " + wire.Written(unit.Torque, worn.TorquePeakNm, system)
	}
	torque.Add(sharp, dull)
	power.Add(drop(at(unit.Power, worn.PowerKW)), mark(at(unit.Power, e.Sharp.PowerKW), hollow{}), mark(at(unit.Power, worn.PowerKW), pyramid{}))
}
