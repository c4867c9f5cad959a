package plan

import (
	"math"
	"strconv"
	"strings"

	"swarf/domain"
	"swarf/domain/machine"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// Total is what a machine has to do.
type Total struct {
	Machine           *machine.Machine
	CutsCount         int
	ToolChangesCount  int
	CuttingMinutes    float64
	BesideMinutes     float64
	ApproachMinutes   float64
	ToolChangeMinutes float64
	EnergyKWh         unit.Opt // of the spindle drive, idling while it comes up and goes; absent without loads or a path
	Whole             bool     // the time of each of its cuts is known
}

// TotalMinutes is all of its time.
func (t *Total) TotalMinutes() float64 {
	return t.CuttingMinutes + t.BesideMinutes + t.ApproachMinutes + t.ToolChangeMinutes
}

// total adds the steps up, machine by machine, in the order in which they are met.
func (p *Plan) total(*Request) {
	at := map[*machine.Machine]int{}
	for i := range p.Cuts {
		c := &p.Cuts[i]
		k, there := at[c.Machine]
		if !there {
			k = len(p.Machines)
			at[c.Machine] = k
			p.Machines = append(p.Machines, Total{Machine: c.Machine, EnergyKWh: unit.Some(0), Whole: true})
		}
		t := &p.Machines[k]
		t.CutsCount++
		if c.Time.ToolChanged {
			t.ToolChangesCount++
		}
		t.CuttingMinutes += c.Time.CuttingMinutes.V
		t.BesideMinutes += c.Time.BesideMinutes
		t.ApproachMinutes += c.Time.ApproachMinutes
		t.ToolChangeMinutes += c.Time.ToolChangeMinutes
		t.Whole = t.Whole && c.Time.CuttingMinutes.OK
		e := c.Answer.Estimate
		if c.Machine == nil || e == nil || e.Machine == nil || !e.Machine.MotorPowerKW.OK || !c.Time.CuttingMinutes.OK {
			t.EnergyKWh = absent
		}
		if t.EnergyKWh.OK {
			idle := c.Machine.Spindle.IdlePowerKW * (c.Time.BesideMinutes + c.Time.ApproachMinutes)
			t.EnergyKWh.V += (e.Machine.MotorPowerKW.V*c.Time.CuttingMinutes.V + idle) / 60
		}
	}
}

// Edges is how many edges of a tool the routing wears out.
type Edges struct {
	Tool       *tool.Tool
	ShareRatio float64 // of median lives, all cuts of the tool together
	Count      float64 // whole edges
	Steps      []int
}

// edges adds up the lives that the cuts of one tool take. Shares of different cuts are
// added as Miner's rule does; common practice, no source.
func (p *Plan) edges(r *Request) {
	var unknown []string
	for i := range p.Cuts {
		c := &p.Cuts[i]
		e := c.Answer.Estimate
		if e == nil || c.Answer.Refused || !c.Time.CuttingMinutes.OK {
			continue
		}
		if e.Life == nil {
			unknown = append(unknown, p.ref(r, i))
			continue
		}
		share := c.Time.CuttingMinutes.V / e.Life.MedianMinutes
		own := &r.Steps[i].Cut.Tool
		k := -1
		for j := range p.Edges {
			if SameTool(p.Edges[j].Tool, own) {
				k = j
			}
		}
		if k < 0 {
			k = len(p.Edges)
			p.Edges = append(p.Edges, Edges{Tool: own})
		}
		p.Edges[k].ShareRatio += share
		p.Edges[k].Steps = append(p.Edges[k].Steps, i)
	}
	if len(unknown) > 0 {
		p.Unchecked = append(p.Unchecked, domain.Unchecked{Check: "edges of " + strings.Join(unknown, ", "), Needs: "tool-life records for the metal, process and tool material"})
	}
	for k := range p.Edges {
		p.Edges[k].Count = math.Max(1, math.Ceil(p.Edges[k].ShareRatio-1e-9))
	}
}

func itoa(i int) string { return strconv.Itoa(i) }
