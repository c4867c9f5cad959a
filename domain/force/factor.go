package force

import "math"

// Rake is a tool's rake and the rake of the record it is held against.
type Rake struct{ ToolDeg, ReferenceDeg float64 }

// RakeRatio returns K = 1 − 0.015·(γ − γ0): the force falls by 1.5 % for each degree
// above the record's rake.
//
// Range: believed within ±10° of the record's rake; beyond it the factor is held at
// ±10°. Errors: none. Source: common textbook form (recalled); another form says
// 1 % per degree.
func RakeRatio(r Rake) float64 { return 1 - 0.015*min(10, max(-10, r.ToolDeg-r.ReferenceDeg)) }

// Families of force records whose process factors must not be mixed.
const (
	SixDegreeFamily = "six-degree-carbide" // measured in outside turning, rake 6° in steel, 2° in iron
	SchoolFamily    = "school-tables"      // with process factors of its own
)

// Process is what a record was measured in and what it is used for.
type Process struct {
	Family, MeasuredIn, UsedFor string // turning, milling, drilling, boring
}

// ProcessRatio returns the process factor. Records measured in outside turning take
// 1.2 inside, drilling and milling, 1.3 in grooving and parting; the school tables have factors of their own
// (drilling 1.2, milling 0.8); anything measured in the process itself, or in
// none in particular, takes 1.
//
// Range: the processes named. Errors: none; an unknown pair gives 1.
// Source: textbook tables in the line of Kienzle and Victor, and a German school
// table book (both recalled).
func ProcessRatio(p Process) float64 {
	if p.MeasuredIn != "turning" || p.UsedFor == "turning" {
		if p.Family == SchoolFamily && p.UsedFor == "milling" {
			return 0.8
		}
		if p.Family == SchoolFamily && p.UsedFor != "turning" && p.UsedFor != "grooving" {
			return 1.2
		}
		return 1
	}
	if p.Family == SchoolFamily && p.UsedFor == "milling" {
		return 0.8
	}
	switch p.UsedFor {
	case "boring", "drilling", "milling":
		return 1.2
	case "grooving":
		return 1.3
	}
	return 1
}

// ReamingFrictionRatio is the torque of a reamer over that of its chips, the middle
// of 1.3 to 2. Common practice, no source.
const ReamingFrictionRatio = 1.65

// HighSpeedSteelRatio is the force of a high-speed-steel edge against carbide.
//
// Source: textbook tables in the line of Kienzle and Victor (recalled).
const HighSpeedSteelRatio = 1.2

// WornRatio is the default growth of the load at the end of an edge's life.
//
// Source: Machinery's Handbook, tool wear factor for normal turning and drilling
// (recalled); M. P. Groover gives 1.25 for roughing.
const WornRatio = 1.3

// Harder is a hardness and the hardness of the record, both HBW.
type Harder struct{ HardnessHBW, RecordHBW float64 }

// HardnessRatio returns kc's factor for harder work, (HB/HB0)^0.475, for steel and
// iron only: cold-worked austenitic metal does not follow it.
//
// Range: HB/HB0 from 0.8 to 1.3; beyond it the factor is held. Errors: none.
// Source: exponent 0.4 to 0.55, the middle taken; fits the plain-carbon and alloy
// rows of Machinery's Handbook, 31st ed., p. 1147.
func HardnessRatio(h Harder) float64 {
	return math.Pow(min(1.3, max(0.8, h.HardnessHBW/h.RecordHBW)), 0.475)
}
