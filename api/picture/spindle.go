package picture

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"

	"swarf/domain/estimate"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// Spindle draws the torque and the power that a machine's main drive has at the tool, by
// speed, gear and rating, and, where there is one, what a cut asks of it with a sharp and
// with a worn edge.
//
// Range: a checked machine; e may be nil. Source: the contract's section 3.2.
func Spindle(m *machine.Machine, e *estimate.Estimate, system unit.System) *Picture {
	name := m.Name
	if name == "" {
		name = "the machine"
	}
	speed := "spindle speed, " + unit.Rotation.Label(system)
	torque := chart(name+": torque and power at the tool", "", "torque, "+unit.Torque.Label(system))
	power := chart("", speed, "power, "+unit.Power.Label(system))
	k := 0
	for i := range m.Spindle.Gears {
		g := &m.Spindle.Gears[i]
		for j := range g.Ratings {
			r := &g.Ratings[j]
			t, p := curves(m, g, r, system)
			s := strokeOf(k)
			a, b := line(t, s), line(p, s)
			torque.Add(a)
			power.Add(b)
			torque.Legend.Add(strings.TrimSpace(gearLabel(m, g)+" "+r.Duty.String()), a)
			k++
		}
	}
	says := fmt.Sprintf("%s, %d gears, to %s", name, len(m.Spindle.Gears), short(m.Spindle.MaxSpeedPerMin))
	if e != nil && e.HasLoads {
		worn := e.Worn()
		n := e.Motion.SpindleSpeedPerMin
		sharp, dull := addPoints(torque, n, unit.Torque.FromMetric(system, e.Sharp.TorqueNm), unit.Torque.FromMetric(system, worn.TorqueNm))
		torque.Legend.Add("the cut, sharp edge", sharp)
		torque.Legend.Add("the cut, worn edge", dull)
		addPoints(power, n, unit.Power.FromMetric(system, e.Sharp.PowerKW), unit.Power.FromMetric(system, worn.PowerKW))
		says += fmt.Sprintf("; the cut runs at %s with %s, worn %s", short(n), amount(unit.Torque, e.Sharp.TorqueNm, system), amount(unit.Torque, worn.TorqueNm, system))
	}
	for _, p := range []*plot.Plot{torque, power} {
		p.X.Min, p.Y.Min = 0, 0
		p.X.Max, p.Y.Max = m.Spindle.MaxSpeedPerMin*1.02, p.Y.Max*1.12
	}
	return twoPlots(name, says, torque, power)
}

func gearLabel(m *machine.Machine, g *machine.Gear) string {
	if len(m.Spindle.Gears) == 1 {
		return ""
	}
	return "gear " + g.Name
}

// curves samples a rating at the tool; more points where it bends.
func curves(m *machine.Machine, g *machine.Gear, r *machine.Rating, system unit.System) (torque, power plotter.XYs) {
	low, high := g.MinSpeedPerMin, g.MaxSpeedPerMin
	if low <= 0 {
		low = high / 400
	}
	speeds := []float64{}
	const samples = 120
	for i := range samples + 1 {
		n := low + (high-low)*float64(i)/samples
		if knee := r.KneePerMin(); len(speeds) > 0 && speeds[len(speeds)-1] < knee && knee < n {
			speeds = append(speeds, knee)
		}
		speeds = append(speeds, n)
	}
	eta := m.Spindle.EfficiencyRatio
	for _, n := range speeds {
		torque = append(torque, plotter.XY{X: n, Y: unit.Torque.FromMetric(system, r.TorqueNmAt(n)*eta)})
		power = append(power, plotter.XY{X: n, Y: unit.Power.FromMetric(system, r.PowerKWAt(n)*eta)})
	}
	return torque, power
}

// addPoints marks a cut: the sharp edge's and the worn edge's demand at its speed.
func addPoints(p *plot.Plot, n, sharp, worn float64) (a, b *plotter.Scatter) {
	a, b = mark(plotter.XY{X: n, Y: sharp}, false), mark(plotter.XY{X: n, Y: worn}, true)
	drop := line(plotter.XYs{{X: n, Y: 0}, {X: n, Y: worn}}, stroke{ink, 0.8, []float64{1, 2}})
	p.Add(drop, a, b)
	return a, b
}
