package tool

import "swarf/domain/unit"

// Field is one numeric member of a tool, by its name in requests.
type Field struct {
	Name     string
	Path     string // in a request
	Quantity unit.Quantity
	Of       func(*Tool) **float64
}

// Fields lists every numeric member of a tool.
var Fields = []Field{
	{"cutting_diameter", "tool.cutting_diameter", unit.Length, func(t *Tool) **float64 { return &t.CuttingDiameterMM }},
	{"effective_edges", "tool.effective_edges", unit.None, func(t *Tool) **float64 { return &t.EffectiveEdgesCount }},
	{"cutting_edge_angle", "tool.cutting_edge_angle", unit.Angle, func(t *Tool) **float64 { return &t.CuttingEdgeAngleDeg }},
	{"corner_radius", "tool.corner_radius", unit.Length, func(t *Tool) **float64 { return &t.CornerRadiusMM }},
	{"point_angle", "tool.point_angle", unit.Angle, func(t *Tool) **float64 { return &t.PointAngleDeg }},
	{"flute_helix_angle", "tool.flute_helix_angle", unit.Angle, func(t *Tool) **float64 { return &t.FluteHelixAngleDeg }},
	{"rake_angle", "tool.rake_angle", unit.Angle, func(t *Tool) **float64 { return &t.RakeAngleDeg }},
	{"usable_length", "tool.usable_length", unit.Length, func(t *Tool) **float64 { return &t.UsableLengthMM }},
	{"max_depth_of_cut", "tool.max_depth_of_cut", unit.Length, func(t *Tool) **float64 { return &t.MaxDepthOfCutMM }},
	{"protruding_length", "tool.protruding_length", unit.Length, func(t *Tool) **float64 { return &t.ProtrudingLengthMM }},
	{"max_spindle_speed", "tool.max_spindle_speed", unit.Rotation, func(t *Tool) **float64 { return &t.MaxSpindleSpeedPerMin }},
	{"max_ramp_angle", "tool.max_ramp_angle", unit.Angle, func(t *Tool) **float64 { return &t.MaxRampAngleDeg }},
	{"shank_diameter", "tool.shank_diameter", unit.Length, func(t *Tool) **float64 { return &t.ShankDiameterMM }},
	{"elastic_modulus", "tool.elastic_modulus", unit.Modulus, func(t *Tool) **float64 { return &t.ElasticModulusGPa }},
	{"max_torque", "tool.max_torque", unit.Torque, func(t *Tool) **float64 { return &t.MaxTorqueNm }},
	{"chamfer_threads", "tool.chamfer_threads", unit.None, func(t *Tool) **float64 { return &t.ChamferThreadsCount }},
	{"chisel_ratio", "tool.chisel_ratio", unit.None, func(t *Tool) **float64 { return &t.ChiselRatio }},
	{"max_cutting_depth", "tool.max_cutting_depth", unit.Length, func(t *Tool) **float64 { return &t.MaxCuttingDepthMM }},
	{"groove_diameter_min", "tool.groove_diameter_min", unit.Length, func(t *Tool) **float64 { return &t.GrooveDiameterMinMM }},
	{"groove_diameter_max", "tool.groove_diameter_max", unit.Length, func(t *Tool) **float64 { return &t.GrooveDiameterMaxMM }},
	{"runout", "tool.runout", unit.Length, func(t *Tool) **float64 { return &t.RunoutMM }},
}

// PropertyQuantity is what a numeric member of a tool measures.
func PropertyQuantity(name string) (q unit.Quantity, known bool) {
	for i := range Fields {
		if Fields[i].Name == name {
			return Fields[i].Quantity, true
		}
	}
	return unit.None, false
}
