package tool

import "swarf/domain/unit"

// Field is one numeric member of a tool, by its name in requests.
type Field struct {
	Name     string
	Quantity unit.Quantity
	Of       func(*Tool) **float64
}

// Fields lists every numeric member of a tool.
var Fields = []Field{
	{"cutting_diameter", unit.Length, func(t *Tool) **float64 { return &t.CuttingDiameterMM }},
	{"effective_edges", unit.None, func(t *Tool) **float64 { return &t.EffectiveEdgesCount }},
	{"cutting_edge_angle", unit.Angle, func(t *Tool) **float64 { return &t.CuttingEdgeAngleDeg }},
	{"corner_radius", unit.Length, func(t *Tool) **float64 { return &t.CornerRadiusMM }},
	{"point_angle", unit.Angle, func(t *Tool) **float64 { return &t.PointAngleDeg }},
	{"flute_helix_angle", unit.Angle, func(t *Tool) **float64 { return &t.FluteHelixAngleDeg }},
	{"rake_angle", unit.Angle, func(t *Tool) **float64 { return &t.RakeAngleDeg }},
	{"usable_length", unit.Length, func(t *Tool) **float64 { return &t.UsableLengthMM }},
	{"max_depth_of_cut", unit.Length, func(t *Tool) **float64 { return &t.MaxDepthOfCutMM }},
	{"protruding_length", unit.Length, func(t *Tool) **float64 { return &t.ProtrudingLengthMM }},
	{"max_spindle_speed", unit.Rotation, func(t *Tool) **float64 { return &t.MaxSpindleSpeedPerMin }},
	{"max_ramp_angle", unit.Angle, func(t *Tool) **float64 { return &t.MaxRampAngleDeg }},
	{"shank_diameter", unit.Length, func(t *Tool) **float64 { return &t.ShankDiameterMM }},
	{"elastic_modulus", unit.Modulus, func(t *Tool) **float64 { return &t.ElasticModulusGPa }},
	{"max_torque", unit.Torque, func(t *Tool) **float64 { return &t.MaxTorqueNm }},
	{"chamfer_threads", unit.None, func(t *Tool) **float64 { return &t.ChamferThreadsCount }},
	{"chisel_ratio", unit.None, func(t *Tool) **float64 { return &t.ChiselRatio }},
	{"max_cutting_depth", unit.Length, func(t *Tool) **float64 { return &t.MaxCuttingDepthMM }},
	{"groove_diameter_min", unit.Length, func(t *Tool) **float64 { return &t.GrooveDiameterMinMM }},
	{"groove_diameter_max", unit.Length, func(t *Tool) **float64 { return &t.GrooveDiameterMaxMM }},
	{"runout", unit.Length, func(t *Tool) **float64 { return &t.RunoutMM }},
}
