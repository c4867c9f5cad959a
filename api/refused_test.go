package api_test

import (
	"slices"
	"testing"
)

// A refused recommendation shows no parameters, nor what would betray them: loads, times,
// deflection, grip and the table over tilt.
func TestRefusedRecommendationShowsNoParameters(t *testing.T) {
	h := embeddedService(t)
	hidden := []string{"parameters", "chip", "loads", "loads_worn", "motion", "time", "finish", "deflection", "work_holding", "tilt", "explain"}
	for name, x := range map[string]struct {
		request map[string]any
		refused string
		shows   []string // of the same cut where nothing refuses it
	}{
		"end mill": {map[string]any{"units": "metric", "material": map[string]any{"grade": "AZ91D"}, "operation": "side-milling", "coolant": map[string]any{"delivery": "external", "fluid": "water-miscible"},
			"tool":       map[string]any{"class": "mill-end", "cutting_diameter": 12, "effective_edges": 3, "protruding_length": 40, "shank_diameter": 12},
			"engagement": map[string]any{"axial_depth": 10, "radial_width": 3, "length": 100}, "parameters": map[string]any{"cutting_speed": 200, "feed_per_tooth": 0.1},
			"force_data": map[string]any{"specific_cutting_energy": 0.5}}, "combustible-metal-coolant", []string{"deflection", "loads", "time"}},
		"chuck": {map[string]any{"units": "metric", "material": map[string]any{"grade": "1.1191"}, "operation": "turning", "tool": map[string]any{"class": "turning-external", "corner_radius": 0.8},
			"engagement": map[string]any{"work_diameter": 60, "depth_of_cut": 3}, "parameters": map[string]any{"spindle_speed": 3500, "feed_per_revolution": 0.3},
			"work_holding": map[string]any{"jaws": 3, "jaw_mass": 2.1, "jaw_radius": 70, "grip_diameter": 60, "friction": 0.2, "static_grip": 60000}}, "grip-insufficient", []string{"work_holding", "loads", "finish"}},
	} {
		t.Run(name, func(t *testing.T) {
			estimated := ask(t, h, "POST /v1/estimates?explain=true", x.request)
			for _, name := range x.shows {
				if _, ok := member(estimated.doc, name); !ok {
					t.Fatalf("the estimate has no %s: %s", name, estimated.body)
				}
			}
			got := ask(t, h, "POST /v1/recommendations?explain=true", x.request)
			codes, err := find(got.doc, "findings[*].code")
			if err != nil || !slices.ContainsFunc(codes, func(n node) bool { return n.value == x.refused }) {
				t.Fatalf("%v: %s", err, got.body)
			}
			for _, name := range hidden {
				if v, ok := member(got.doc, name); ok {
					t.Errorf("%s is %v", name, v)
				}
			}
		})
	}
}
