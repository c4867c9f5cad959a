package wire

import (
	"encoding/json"
	"testing"

	"swarf/domain/unit"
)

// drillBody is the example of API.md 3.1.
const drillBody = `{
  "units": "metric", "ref": "op-30",
  "material": {"grade": "1.4301", "condition": "annealed", "hardness": {"value": 180, "scale": "HBW"}},
  "operation": "drilling",
  "tool": {"class": "drill-indexable", "cutting_diameter": 30, "effective_edges": 1, "point_angle": 180},
  "engagement": {"hole_depth": 60, "through": true},
  "parameters": {"cutting_speed": 150, "feed_per_revolution": 0.12},
  "machine": "vmc-50",
  "coolant": {"delivery": "external"},
  "edge_state": "sharp",
  "force_data": {"specific_cutting_force_1_1": 2300, "chip_thickness_exponent": 0.20}
}`

func BenchmarkDecodeCut(b *testing.B) {
	body := []byte(drillBody)
	b.Run("wire", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			var c Cut
			if in := Decode(body, &c, DecodeOptions{RequireUnits: true}); len(in.Faults) > 0 {
				b.Fatal(in.Faults)
			}
		}
	})
	b.Run("encoding-json", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			var c Cut
			if err := json.Unmarshal(body, &c); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkEncodeAnswer(b *testing.B) {
	a := drillAnswer()
	b.Run("wire", func(b *testing.B) {
		b.ReportAllocs()
		var buffer []byte
		for b.Loop() {
			var err error
			if buffer, err = AppendJSON(buffer[:0], a, unit.Metric); err != nil {
				b.Fatal(err)
			}
		}
		b.SetBytes(int64(len(buffer)))
	})
	b.Run("wire-inch", func(b *testing.B) {
		var buffer []byte
		for b.Loop() {
			buffer, _ = AppendJSON(buffer[:0], a, unit.Inch)
		}
		b.SetBytes(int64(len(buffer)))
	})
	b.Run("encoding-json", func(b *testing.B) {
		b.ReportAllocs()
		var text []byte
		for b.Loop() {
			text, _ = json.Marshal(a)
		}
		b.SetBytes(int64(len(text)))
	})
}
