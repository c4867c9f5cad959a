package data

import (
	"testing"

	"swarf/domain/cut"
	"swarf/domain/tool"
)

// TestClasses checks the tool classes: enough of them, operations of the contract,
// every operation done by some class, defaults inside what is allowed.
func TestClasses(t *testing.T) {
	classes, err := loadClasses()
	if err != nil {
		t.Fatal(err)
	}
	if len(classes) != 24 {
		t.Errorf("%d classes, want 24", len(classes))
	}
	done := map[string]bool{}
	for i := range classes {
		class := &classes[i]
		for _, operation := range class.Operations {
			if !cut.Known(operation) {
				t.Errorf("%s: %q is no operation", class.ID, operation)
			}
			done[operation] = true
		}
		if len(class.Properties) == 0 {
			t.Errorf("%s has no properties", class.ID)
		}
		for _, p := range class.Properties {
			if !(p.Low.OK && p.High.OK && p.Low.V <= p.High.V) || p.Default.OK && (p.Default.V < p.Low.V || p.Default.V > p.High.V) {
				t.Errorf("%s %s: default %v, range %v to %v", class.ID, p.Name, p.Default, p.Low, p.High)
			}
			if (p.Name == "cutting_diameter" || p.Name == "corner_radius") && p.Default.OK {
				t.Errorf("%s %s must not have a default", class.ID, p.Name)
			}
		}
		if taps := class.ID == "tap-cutting" || class.ID == "tap-forming"; taps != (class.Edge == "") {
			t.Errorf("%s: edge %q", class.ID, class.Edge)
		}
	}
	for _, operation := range cut.Names() {
		if !done[operation] {
			t.Errorf("no class does %s", operation)
		}
	}
}

// TestClassDefaults holds the defaults that computations lean on against the practice
// of the trade (common practice, no source).
func TestClassDefaults(t *testing.T) {
	classes, err := loadClasses()
	if err != nil {
		t.Fatal(err)
	}
	byID := map[string]*tool.Class{}
	for i := range classes {
		byID[classes[i].ID] = &classes[i]
	}
	for _, c := range []struct {
		class, property string
		value           float64
	}{
		{"drill-twist-hss", "effective_edges", 2}, {"drill-twist-hss", "point_angle", 118},
		{"drill-twist-hss", "chisel_ratio", 0.18}, {"drill-solid-carbide", "point_angle", 140},
		{"drill-exchangeable-tip", "point_angle", 140}, {"drill-flat-bottom", "point_angle", 180},
		{"drill-indexable", "effective_edges", 1}, {"drill-indexable", "point_angle", 180},
		{"drill-gun", "effective_edges", 1}, {"drill-gun", "point_angle", 130}, {"drill-spot", "point_angle", 90},
		{"boring-head", "cutting_edge_angle", 90}, {"mill-end", "cutting_edge_angle", 90},
		{"mill-end", "flute_helix_angle", 30}, {"mill-face", "cutting_edge_angle", 45},
		{"mill-high-feed", "cutting_edge_angle", 12}, {"turning-external", "cutting_edge_angle", 95},
		{"turning-internal", "effective_edges", 1}, {"turning-parting", "cutting_edge_angle", 90},
	} {
		p, there := byID[c.class].Property(c.property)
		if !there || !p.Default.OK || p.Default.V != c.value {
			t.Errorf("%s %s: %+v, want %v", c.class, c.property, p, c.value)
		}
	}
	for _, class := range []string{"mill-end", "mill-face", "mill-high-feed", "reamer"} {
		if p, there := byID[class].Property("effective_edges"); !there || p.Default.OK {
			t.Errorf("%s: effective_edges must be asked for", class)
		}
	}
}
