package api_test

import (
	"encoding/json"
	"math"
	"testing"
)

// bends integrates a cantilever from its clamp to its tip, slope by slope: the force acts
// at the tip, and diameter says how thick the shaft is so far from it.
func bends(force, length, modulus float64, diameter func(fromTip float64) float64) float64 {
	const steps = 40000
	dx := length / steps
	slope, y := 0.0, 0.0
	for i := range steps {
		fromTip := length - (float64(i)+0.5)*dx
		inertia := math.Pi / 64 * math.Pow(diameter(fromTip), 4)
		curvature := force * fromTip / (1000 * modulus * inertia)
		y += (slope + curvature*dx/2) * dx
		slope += curvature * dx
	}
	return y
}

// chord walks along corner and edge to the surface of the work, and returns the direction
// from the last feed mark to there.
func (c oracleCut) chord(radius float64) float64 {
	x, y := 0.0, 0.0
	kappa := c.kappa * math.Pi / 180
	const step = 1e-5
	for turned := 0.0; y < c.ap; {
		if turned < kappa && radius > 0 {
			turned = min(kappa, turned+step/radius)
		} else {
			turned = kappa
		}
		x, y = x+step*math.Cos(turned), y+step*math.Sin(turned)
	}
	return math.Atan2(y, x+c.f/2)
}

// holdingCases are cuts that bend or that a chuck must hold; each is asked in metric as it
// stands.
var holdingCases = map[string]string{
	"stepped end mill": `{"units": "metric", "material": {"grade": "1.4301", "condition": "annealed"}, "operation": "slot-milling",
		"tool": {"class": "mill-end", "cutting_diameter": 10, "effective_edges": 3, "max_depth_of_cut": 22, "protruding_length": 48, "shank_diameter": 12},
		"engagement": {"axial_depth": 8}, "parameters": {"cutting_speed": 70, "feed_per_tooth": 0.05}, "force_data": {"specific_cutting_force_1_1": 2300, "chip_thickness_exponent": 0.2},
		"wall": {"height": 18, "thickness": 3, "width": 25}, "target": {"tolerance": 0.1}}`,
	"end mill of steel, worn": `{"units": "metric", "material": {"grade": "1.1191", "condition": "normalised"}, "operation": "side-milling", "edge_state": "worn",
		"tool": {"class": "mill-end", "tool_material": "HSS", "cutting_diameter": 16, "effective_edges": 4, "flute_helix_angle": 35, "protruding_length": 60},
		"engagement": {"axial_depth": 20, "radial_width": 3}, "parameters": {"cutting_speed": 30, "feed_per_tooth": 0.06}, "force_data": {"specific_cutting_force_1_1": 1900, "chip_thickness_exponent": 0.22},
		"wall": {"height": 20, "thickness": 5, "width": 40}}`,
	"end mill in inches": `{"units": "inch", "material": {"grade": "1.4301", "condition": "annealed"}, "operation": "side-milling",
		"tool": {"class": "mill-end", "cutting_diameter": 0.5, "effective_edges": 4, "max_depth_of_cut": 1.25, "protruding_length": 2, "shank_diameter": 0.5, "elastic_modulus": 80},
		"engagement": {"axial_depth": 0.75, "radial_width": 0.1}, "parameters": {"cutting_speed": 250, "feed_per_tooth": 0.003}, "force_data": {"specific_cutting_force_1_1": 330, "chip_thickness_exponent": 0.2},
		"wall": {"height": 0.8, "thickness": 0.1, "width": 1}}`,
	"boring bar": `{"units": "metric", "material": {"grade": "1.1191", "condition": "normalised"}, "operation": "boring-internal",
		"tool": {"class": "turning-internal", "corner_radius": 0.4, "cutting_edge_angle": 93, "protruding_length": 80, "shank_diameter": 20, "body": "carbide"},
		"engagement": {"work_diameter": 40, "depth_of_cut": 0.5}, "parameters": {"cutting_speed": 160, "feed_per_revolution": 0.1}, "force_data": {"specific_cutting_force_1_1": 1800, "chip_thickness_exponent": 0.25}}`,
	"bar in a chuck": `{"units": "metric", "material": {"grade": "1.1191", "condition": "normalised"}, "operation": "turning",
		"tool": {"class": "turning-external", "corner_radius": 0.8}, "engagement": {"work_diameter": 60, "depth_of_cut": 3}, "parameters": {"cutting_speed": 220, "feed_per_revolution": 0.3},
		"force_data": {"specific_cutting_force_1_1": 1800, "chip_thickness_exponent": 0.25},
		"work_holding": {"kind": "chuck", "jaws": 3, "jaw_mass": 2.1, "jaw_radius": 70, "grip_diameter": 58, "friction": 0.2, "static_grip": 60000, "safety": 2.5}}`,
	"bar in inches": `{"units": "inch", "material": {"grade": "1.1191", "condition": "normalised"}, "operation": "turning",
		"tool": {"class": "turning-external", "corner_radius": 0.0315}, "engagement": {"work_diameter": 2.5, "depth_of_cut": 0.1}, "parameters": {"cutting_speed": 700, "feed_per_revolution": 0.01},
		"force_data": {"specific_cutting_force_1_1": 260, "chip_thickness_exponent": 0.25, "wear_factor": 1.4},
		"work_holding": {"kind": "chuck", "jaws": 3, "jaw_mass": 4.5, "jaw_radius": 2.8, "grip_diameter": 2.4, "friction": 0.2, "static_grip": 13000, "safety": 2}}`,
	"face to the centre": `{"units": "metric", "material": {"grade": "1.1191", "condition": "normalised"}, "operation": "facing",
		"tool": {"class": "turning-external", "corner_radius": 0.8}, "engagement": {"work_diameter": 90, "depth_of_cut": 1.5}, "parameters": {"cutting_speed": 200, "feed_per_revolution": 0.2},
		"force_data": {"specific_cutting_force_1_1": 1800, "chip_thickness_exponent": 0.25},
		"work_holding": {"kind": "chuck", "max_speed": 3200, "jaws": 3, "jaw_mass": 2.1, "jaw_radius": 70, "grip_diameter": 90, "friction": 0.2, "static_grip": 60000, "safety": 2.5}}`,
}

// modulusOf is the elastic modulus of the grades above in GPa: EN 10088-1 for the
// austenitic steel, handbook steel for the other (both recalled).
var modulusOf = map[string]float64{"1.4301": 200, "1.1191": 210}

// Deflection and grip are held against the oracle: the beam integrated step by step, the
// corner walked along, the forces of the jaws by hand.
func TestHoldingAgreesWithTheOracle(t *testing.T) {
	h := embeddedService(t)
	for name, text := range holdingCases {
		t.Run(name, func(t *testing.T) {
			var request map[string]any
			if err := json.Unmarshal([]byte(text), &request); err != nil {
				t.Fatal(err)
			}
			got := ask(t, h, "POST /v1/estimates", request)
			if got.status != 200 {
				t.Fatalf("%d %s", got.status, got.body)
			}
			units := request["units"].(string)
			c, err := readCut(got.doc, got.doc, request, units)
			if err != nil {
				t.Fatal(err)
			}
			r := &reader{doc: got.doc}
			if units == "inch" {
				r.system = 1
			}
			for path, want := range c.holding(r, request) {
				if value := r.answered(got.doc, path, want.unit); r.err != nil || !(math.Abs(value-want.value) <= 5e-4*want.value) {
					t.Errorf("%s is %v, the oracle says %.7g %s (%v)", path, value, want.value, want.unit, r.err)
				}
			}
		})
	}
}

// holding is what bends and what holds.
func (c oracleCut) holding(r *reader, request map[string]any) map[string]expected {
	tool := request["tool"].(map[string]any)
	given := func(name, quantity string, fallback float64) float64 { return r.given(tool, name, quantity, fallback) }
	grade := request["material"].(map[string]any)["grade"].(string)
	switch c.operation {
	case "turning", "facing":
		return c.gripping(r, request)
	case "boring-internal":
		fc := c.loads()["loads.cutting_force"].value
		fp := fc * (0.2 + 0.4*max(0, math.Cos(c.chord(given("corner_radius", "length", 0)))))
		bar := given("shank_diameter", "length", math.NaN())
		return map[string]expected{
			"loads.passive_force": {fp, "N"},
			"deflection.tool":     {bends(math.Sqrt(fc*fc+fp*fp), given("protruding_length", "length", 0), 600, func(float64) float64 { return bar }), "mm"},
		}
	}
	entry, exit := c.arc()
	_, peak := c.millingTorque(entry, exit)
	side := 2000 * peak / c.d * math.Sqrt(1+0.4*0.4)
	modulus := 600.0
	if tool["tool_material"] == "HSS" {
		modulus = 210
	}
	modulus = given("elastic_modulus", "modulus", modulus)
	length := given("protruding_length", "length", math.NaN())
	flutes := given("max_depth_of_cut", "length", length) - c.ap/2
	shank := given("shank_diameter", "length", c.d)
	thick := func(fromTip float64) float64 {
		if fromTip < flutes {
			return 0.8 * c.d
		}
		return shank
	}
	out := map[string]expected{"deflection.tool": {bends(side, length-c.ap/2, modulus, thick), "mm"}}
	wall := request["wall"].(map[string]any)
	high, t, w := r.given(wall, "height", "length", 0), r.given(wall, "thickness", "length", 0), r.given(wall, "width", "length", 0)
	out["deflection.wall"] = expected{side * high * high * high / (3 * 1000 * modulusOf[grade] * w * t * t * t / 12), "mm"}
	return out
}

// gripping is the chuck at the speed where it holds least.
func (c oracleCut) gripping(r *reader, request map[string]any) map[string]expected {
	h := request["work_holding"].(map[string]any)
	given := func(name, quantity string) float64 { return r.given(h, name, quantity, 0) }
	radius := r.given(request["tool"].(map[string]any), "corner_radius", "length", 0)
	wear := r.given(request, "force_data.wear_factor", "", 1.3)
	fc := wear * c.loads()["loads.cutting_force"].value
	along := fc * (0.3 + 0.2*math.Sin(c.chord(radius)))
	at := func(n float64) (needed, loss, holds float64) {
		omega := n / 60 * 2 * math.Pi
		loss = given("jaws", "") * given("jaw_mass", "mass") * given("jaw_radius", "length") / 1000 * omega * omega
		rim := fc * (c.d * c.n / n) / given("grip_diameter", "length") // the force at the edge's diameter, at the jaws'
		return given("safety", "") * math.Sqrt(rim*rim+along*along) / given("friction", ""), loss, max(0, given("static_grip", "push")-loss)
	}
	needed, loss, holds := at(c.n)
	if c.operation == "facing" {
		if n2, l2, h2 := at(given("max_speed", "")); given("static_grip", "push")-l2-n2 < given("static_grip", "push")-loss-needed {
			needed, loss, holds = n2, l2, h2
		}
	}
	return map[string]expected{
		"work_holding.grip_needed":      {needed, "N"},
		"work_holding.centrifugal_loss": {loss, "N"},
		"work_holding.grip_at_speed":    {holds, "N"},
		"loads.feed_force":              {along / wear, "N"},
	}
}
