package api_test

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/integrate/quad"

	"swarf/testdata/reference"
)

// The oracle is a second implementation of the formulas of the contract (section
// 3.4), written from that page, with gonum's quadrature for the mean of milling and
// dense sampling for the peak. It never calls the service's own formulas. It takes
// what the request says and the parameters the answer gives, and returns what the
// loads must be.

// oracleCut is a cut in metric.
type oracleCut struct {
	operation, class          string
	d, d0, z, kappa, sigma    float64
	helix, ap, ae, offset     float64
	step, tilt                float64
	pitch, deep, passes, lead float64 // threads: deep is radial
	vc, n, f, fz, vf          float64
	kc11, mc, wear            float64
}

// classDefaults are the edges and angles of PRACTICE, section 2.4, that the
// scenarios leave out: edges, cutting edge angle, point angle, helix.
var classDefaults = map[string][4]float64{
	"drill-twist-hss": {2, 0, 118, 0}, "drill-solid-carbide": {2, 0, 140, 0}, "drill-exchangeable-tip": {2, 0, 140, 0},
	"drill-flat-bottom": {2, 0, 180, 0}, "drill-indexable": {1, 0, 180, 0}, "drill-gun": {1, 0, 130, 0},
	"mill-end": {0, 90, 0, 30}, "mill-face": {0, 45, 0, 0}, "mill-high-feed": {0, 12, 0, 0},
	"turning-external": {1, 95, 0, 0}, "turning-internal": {1, 95, 0, 0},
	"turning-grooving": {1, 90, 0, 0}, "turning-parting": {1, 90, 0, 0},
	"mill-thread": {0, 90, 0, 0}, "mill-ball": {0, 0, 0, 0},
	"turning-threading": {1, 90, 0, 0}, "tap-cutting": {3, 0, 0, 0}, "tap-forming": {3, 0, 0, 0}, "reamer": {0, 0, 90, 0}, "counterbore": {0, 0, 180, 0},
}

// requestUnits are the UCUM codes of a request in inches; metric ones are the first.
var requestUnits = map[string][2]string{
	"length": {"mm", "[in_i]"}, "force": {"N/mm2", "10*3.[psi]"}, "energy": {"J/mm3", "[HP].min/[in_i]3"},
	"modulus": {"GPa", "10*6.[psi]"}, "push": {"N", "[lbf_av]"}, "mass": {"kg", "[lb_av]"},
}

// reader reads numbers of a request or answer into metric, and keeps the first fault.
type reader struct {
	doc    any // holds unit_of
	system int // of the request: 0 metric, 1 inch
	err    error
}

func (r *reader) given(from map[string]any, path, quantity string, fallback float64) float64 {
	nodes, err := find(from, path)
	if err != nil {
		return fallback
	}
	value, ok := nodes[0].value.(float64)
	if !ok {
		r.err = fmt.Errorf("%s is no number", path)
		return math.NaN()
	}
	if codes, dimensional := requestUnits[quantity]; dimensional {
		if value, err = reference.Convert(value, codes[r.system], codes[0]); err != nil {
			r.err = err
		}
	}
	return value
}

func (r *reader) answered(part any, path, unit string) float64 {
	nodes, err := find(part, path)
	if err != nil {
		r.err = err
		return math.NaN()
	}
	value, ok := nodes[0].value.(float64)
	if ok {
		value, err = reference.Convert(value, nodes[0].unit(r.doc), unit)
	}
	if !ok || err != nil {
		r.err = fmt.Errorf("%s: %v %w", path, nodes[0].value, err)
	}
	return value
}

// readCut takes the parameters from the answer, the engagement from its echo where
// it is, and the rest from the request.
func readCut(doc, part any, request map[string]any, units string) (oracleCut, error) {
	r := &reader{doc: doc}
	if units == "inch" {
		r.system = 1
	}
	tool := request["tool"].(map[string]any)
	c := oracleCut{operation: request["operation"].(string), class: tool["class"].(string)}
	defaults, ok := classDefaults[c.class]
	if !ok {
		return c, fmt.Errorf("the oracle does not know the class %s", c.class)
	}
	engagement, _ := request["engagement"].(map[string]any)
	if echo, ok := member(part, "engagement"); ok {
		engagement = echo.(map[string]any)
	}
	c.d = r.given(tool, "cutting_diameter", "length", math.NaN())
	c.z = r.given(tool, "effective_edges", "", defaults[0])
	c.kappa = r.given(tool, "cutting_edge_angle", "", defaults[1])
	c.sigma = r.given(tool, "point_angle", "", defaults[2])
	c.helix = r.given(tool, "flute_helix_angle", "", defaults[3])
	c.d0 = r.given(engagement, "start_diameter", "length", 0)
	c.ap = r.given(engagement, "axial_depth", "length", math.NaN())
	if slices.Contains([]string{"turning", "facing", "boring-internal"}, c.operation) {
		c.ap = r.given(engagement, "depth_of_cut", "length", math.NaN())
		c.d = r.given(engagement, "work_diameter", "length", math.NaN())
	}
	if slices.Contains([]string{"grooving", "parting"}, c.operation) { // b = width
		c.ap = r.given(engagement, "width", "length", math.NaN())
		c.d = r.given(engagement, "work_diameter", "length", math.NaN())
	}
	c.ae = r.given(engagement, "radial_width", "length", c.d)
	c.step = r.given(engagement, "step_over", "length", math.NaN())
	c.tilt = r.given(engagement, "tilt_angle", "", math.NaN())
	switch c.operation {
	case "trochoidal-milling":
		if phi := r.given(engagement, "engagement_angle", "", 0); phi > 0 {
			c.ae = c.d * (1 - math.Cos(phi*math.Pi/180)) / 2
		}
	case "circular-milling", "thread-milling":
		c.ap = r.given(engagement, "axial_depth", "length", r.given(engagement, "pitch", "length", math.NaN()))
		from, to := c.d0, r.given(engagement, "end_diameter", "length", math.NaN())
		c.ae = (to*to - from*from) / (4 * (to - c.d))
		if engagement["internal"] == false {
			c.ae = (from*from - to*to) / (4 * (to + c.d))
		}
	}
	aligned := 0.0
	if slices.Contains([]string{"side-milling", "trochoidal-milling", "circular-milling", "thread-milling"}, c.operation) {
		aligned = (c.d - c.ae) / 2
	}
	c.offset = r.given(engagement, "cutter_offset", "length", aligned)
	c.readThread(r, tool, engagement)
	c.vc = r.answered(part, "parameters.cutting_speed", "m/min")
	c.n = r.answered(part, "parameters.spindle_speed", "/min")
	c.f = r.answered(part, "parameters.feed_per_revolution", "mm")
	c.vf = r.answered(part, "parameters.feed_rate", "mm/min")
	c.fz = c.f / c.z
	if _, ok := request["force_data"].(map[string]any)["specific_cutting_energy"]; ok {
		c.kc11 = 1000 * r.given(request, "force_data.specific_cutting_energy", "energy", 0)
	} else {
		c.kc11 = r.given(request, "force_data.specific_cutting_force_1_1", "force", math.NaN())
		c.mc = r.given(request, "force_data.chip_thickness_exponent", "", math.NaN())
	}
	c.wear = 1
	if request["edge_state"] == "worn" {
		c.wear = r.given(request, "force_data.wear_factor", "", 1.3)
	}
	return c, r.err
}

// hasLaw reports a request whose loads follow from its own force data.
func hasLaw(request map[string]any) bool {
	data, ok := request["force_data"].(map[string]any)
	if !ok {
		return false
	}
	_, energy := data["specific_cutting_energy"]
	_, pair := data["specific_cutting_force_1_1"]
	return energy || pair
}

func sin(deg float64) float64 { return math.Sin(deg * math.Pi / 180) }

// kc is the specific cutting force at a chip of h mm.
func (c oracleCut) kc(h float64) float64 { return c.wear * c.kc11 * math.Pow(h, -c.mc) }

// expected is a value with its unit.
type expected struct {
	value float64
	unit  string
}

// loads gives every member the oracle knows, by its path.
func (c oracleCut) loads() map[string]expected {
	out := map[string]expected{
		"parameters.feed_rate": {c.n * c.f, "mm/min"},
	}
	var torque, power, q float64
	switch {
	case slices.Contains([]string{"drilling", "reaming", "counterboring", "chain-drilling"}, c.operation):
		h := c.fz * sin(c.sigma/2)
		kc := c.kc(h)
		torque = kc * c.f * (c.d*c.d - c.d0*c.d0) / 8000
		power = torque * c.n * math.Pi / 30 / 1000
		q = math.Pi / 4 * (c.d*c.d - c.d0*c.d0) * c.vf / 1000
		out["chip.thickness_max"] = expected{h, "mm"}
		out["chip.thickness_mean"] = expected{h, "mm"}
		out["chip.width"] = expected{(c.d - c.d0) / (2 * sin(c.sigma/2)), "mm"}
		out["loads.specific_cutting_force"] = expected{kc, "N/mm2"}
		out["parameters.spindle_speed"] = expected{1000 * c.vc / (math.Pi * c.d), "/min"}
	case c.pitch > 0 && c.operation != "thread-milling" && c.operation != "circular-milling":
		return c.threadLoads()
	case c.operation == "ball-milling":
		de := c.ballDiameter()
		torque = c.ballTorque()
		power = torque * c.n * math.Pi / 30 / 1000
		q = c.ap * c.step * c.vf / 1000
		out["loads.cutting_force"] = expected{2000 * torque / de, "N"}
		out["loads.specific_cutting_force"] = expected{60000 * power / q, "N/mm2"}
		out["parameters.spindle_speed"] = expected{1000 * c.vc / (math.Pi * de), "/min"}
		out["finish.scallop_height"] = expected{1000 * (c.d/2 - math.Sqrt(c.d*c.d/4-c.step*c.step/4)), "um"}
	case strings.HasSuffix(c.operation, "milling"):
		entry, exit := c.arc()
		sweep := exit - entry
		mean, peak := c.millingTorque(entry, exit)
		torque = mean
		power = torque * c.n * math.Pi / 30 / 1000
		q = c.ap * c.ae * c.vf / 1000
		highest := 1.0
		if exit < math.Pi/2 {
			highest = math.Sin(exit)
		} else if entry > math.Pi/2 {
			highest = math.Sin(entry)
		}
		mc := quad.Fixed(func(phi float64) float64 { return math.Sin(phi) }, entry, exit, 40, quad.Legendre{}, 0)
		out["chip.thickness_max"] = expected{c.fz * sin(c.kappa) * highest, "mm"}
		out["chip.thickness_mean"] = expected{c.fz * sin(c.kappa) * mc / sweep, "mm"}
		out["chip.engagement_angle"] = expected{sweep * 180 / math.Pi, "deg"}
		out["chip.edges_in_cut"] = expected{c.z * sweep / (2 * math.Pi), "1"}
		out["loads.specific_cutting_force"] = expected{60000 * power / q, "N/mm2"}
		out["loads.cutting_force"] = expected{2000 * torque / c.d, "N"}
		out["loads.torque_peak"] = expected{peak, "N.m"}
		out["parameters.spindle_speed"] = expected{1000 * c.vc / (math.Pi * c.d), "/min"}
	default:
		h, b := c.f*sin(c.kappa), c.ap/sin(c.kappa)
		force := c.kc(h) * b * h
		torque = force * c.d / 2000
		power = force * c.vc / 60000
		q = c.vc * c.ap * c.f
		out["chip.thickness_max"] = expected{h, "mm"}
		out["chip.thickness_mean"] = expected{h, "mm"}
		out["chip.width"] = expected{b, "mm"}
		out["loads.specific_cutting_force"] = expected{c.kc(h), "N/mm2"}
		out["loads.cutting_force"] = expected{force, "N"}
		out["parameters.spindle_speed"] = expected{1000 * c.vc / (math.Pi * c.d), "/min"}
	}
	out["loads.torque"] = expected{torque, "N.m"}
	out["loads.cutting_power"] = expected{power, "kW"}
	out["loads.removal_rate"] = expected{q, "cm3/min"}
	return out
}

// oracleAgrees holds members of an answer against the oracle.
func oracleAgrees(doc any, request map[string]any, paths []string, relTol float64) error {
	units, _ := request["units"].(string)
	return oracleAgreesOn(doc, doc, request, units, paths, func(string) float64 { return relTol })
}

// oracleAgreesOn is oracleAgrees for a part of a document, such as a batch item.
// Without paths, every member that both know is held.
func oracleAgreesOn(doc, part any, request map[string]any, units string, paths []string, tolerance func(string) float64) error {
	c, err := readCut(doc, part, request, units)
	if err != nil {
		return err
	}
	want := c.loads()
	all := len(paths) == 0
	if all {
		for path := range want {
			paths = append(paths, path)
		}
		slices.Sort(paths)
	}
	r := &reader{doc: doc}
	var faults []string
	for _, path := range paths {
		w, ok := want[path]
		if !ok {
			return fmt.Errorf("the oracle does not know %s", path)
		}
		if path == "chip.edges_in_cut" || path == "thread.percent" {
			w.unit = ""
		}
		got := r.value(part, path, w.unit)
		if r.err != nil {
			return r.err
		}
		if !(math.Abs(got-w.value) <= tolerance(path)*math.Abs(w.value)) {
			faults = append(faults, fmt.Sprintf("%s is %v, the oracle says %.7g %s", path, got, w.value, w.unit))
		}
	}
	if faults != nil {
		return fmt.Errorf("%s", strings.Join(faults, "\n"))
	}
	return nil
}

// value is a member in a unit; pure numbers have none.
func (r *reader) value(part any, path, unit string) float64 {
	if unit != "" {
		return r.answered(part, path, unit)
	}
	nodes, err := find(part, path)
	if err != nil {
		r.err = err
		return math.NaN()
	}
	value, ok := nodes[0].value.(float64)
	if !ok {
		r.err = fmt.Errorf("%s is no number", path)
	}
	return value
}
