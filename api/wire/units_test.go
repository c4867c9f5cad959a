package wire

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"swarf/domain/unit"
)

func TestUnitsOfARequest(t *testing.T) {
	const inline = `{"units":"inch","machine":{"process":"milling","spindle":{"idle_power":1,"gears":[]}}}`
	cases := []struct {
		name, body string
		opt        DecodeOptions
		want       []string
		system     unit.System
		diameter   float64 // of the tool, 0 when absent
	}{
		{"metric", `{"units":"metric","tool":{"cutting_diameter":1}}`, DecodeOptions{}, nil, unit.Metric, 1},
		{"inch first", `{"units":"inch","tool":{"cutting_diameter":1}}`, DecodeOptions{}, nil, unit.Inch, 25.4},
		{"inch last", `{"tool":{"cutting_diameter":1},"ref":"}\"units\"","units":"inch"}`, DecodeOptions{}, nil, unit.Inch, 25.4},
		{"not those of a member", `{"tool":{"cutting_diameter":1},"machine":{"units":"inch"},"units":"metric"}`, DecodeOptions{}, nil, unit.Metric, 1},
		{"missing", `{"tool":{"cutting_diameter":1}}`, DecodeOptions{}, []string{"400 units-missing units"}, unit.Metric, 1},
		{"missing once for many numbers", `{"tool":{"cutting_diameter":1,"usable_length":3}}`, DecodeOptions{}, []string{"400 units-missing units"}, unit.Metric, 1},
		{"not needed for an angle, a speed of rotation, a time", `{"tool":{"point_angle":140,"max_spindle_speed":4000},"target":{"tool_life":15},"confidence":0.9}`, DecodeOptions{}, nil, unit.Metric, 0},
		{"required all the same", `{"tool":{"point_angle":140}}`, DecodeOptions{RequireUnits: true}, []string{"400 units-missing units"}, unit.Metric, 0},
		{"default", `{"tool":{"cutting_diameter":1}}`, DecodeOptions{Default: "inch", RequireUnits: true}, nil, unit.Inch, 25.4},
		{"default is not heard when stated", `{"units":"metric","tool":{"cutting_diameter":1}}`, DecodeOptions{Default: "inch"}, nil, unit.Metric, 1},
		{"inherited", `{"tool":{"cutting_diameter":1}}`, DecodeOptions{Inherit: "inch"}, nil, unit.Inch, 25.4},
		{"inherited and repeated", `{"units":"inch","tool":{"cutting_diameter":1}}`, DecodeOptions{Inherit: "inch"}, nil, unit.Inch, 25.4},
		{"inherited and contradicted", `{"units":"metric","tool":{"cutting_diameter":1}}`, DecodeOptions{Inherit: "inch"}, []string{"422 fields-conflict units"}, unit.Metric, 1},
		{"inline machine states its own", inline, DecodeOptions{}, []string{"400 units-missing machine.units"}, unit.Inch, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var got Cut
			in := Decode([]byte(c.body), &got, c.opt)
			if c.want == nil {
				c.want = []string{}
			}
			if diff := cmp.Diff(c.want, told(in.Faults)); diff != "" {
				t.Fatalf("faults differ (-want +got):\n%s", diff)
			}
			if in.System != c.system {
				t.Errorf("the system is %v", in.System)
			}
			if c.diameter != 0 && *got.Tool.CuttingDiameter != c.diameter {
				t.Errorf("the diameter is %v mm, want %v", *got.Tool.CuttingDiameter, c.diameter)
			}
			if c.opt.Inherit+c.opt.Default != "" && len(c.want) == 0 && got.Units != c.system.String() {
				t.Errorf("units taken over are not filled in: %q", got.Units)
			}
		})
	}
}

func TestUnitsOfAnInlineMachineAreItsOwn(t *testing.T) {
	var c Cut
	in := Decode([]byte(`{"units":"metric","tool":{"cutting_diameter":2},"machine":{"spindle":{"gears":[{"ratings":[{"torque":1}]}]},"units":"inch"},"wall":{"width":3}}`), &c, DecodeOptions{})
	torque := *c.Machine.Inline.Spindle.Gears[0].Ratings[0].Torque
	// 1 lbf.ft = 0.3048 m x 4.4482216152605 N, exact by definition.
	if len(in.Faults) > 0 || torque != 0.3048*4.4482216152605 || *c.Wall.Width != 3 || *c.Tool.CuttingDiameter != 2 {
		t.Fatalf("%+v: %v N.m", in, torque)
	}
}

func TestUnitsReachTheCutsOfACheck(t *testing.T) {
	type check struct {
		Units string `json:"units,omitempty" enum:"metric,inch"`
		Cuts  []Cut  `json:"cuts,omitempty"`
	}
	var got check
	in := Decode([]byte(`{"cuts":[{"tool":{"cutting_diameter":1}},{"units":"inch","tool":{"cutting_diameter":1}},{"units":"metric"}],"units":"inch"}`), &got, DecodeOptions{})
	if diff := cmp.Diff([]string{"422 fields-conflict cuts[2].units"}, told(in.Faults)); diff != "" {
		t.Fatal(diff)
	}
	for i := range 2 {
		if *got.Cuts[i].Tool.CuttingDiameter != 25.4 || got.Cuts[i].Units != "inch" {
			t.Errorf("cut %d: %+v", i, got.Cuts[i])
		}
	}
	var bare check
	in = Decode([]byte(`{"cuts":[{"tool":{"cutting_diameter":1}}]}`), &bare, DecodeOptions{})
	if diff := cmp.Diff([]string{"400 units-missing units"}, told(in.Faults)); diff != "" {
		t.Fatal(diff)
	}
}

func TestItemsOfABatchAreReadAlone(t *testing.T) {
	var batch struct {
		Units string `json:"units,omitempty" enum:"metric,inch"`
		Items []Raw  `json:"items"`
	}
	in := Decode([]byte(`{"items":[ {"tool":{"cutting_diameter":1}} , 5,{"too":1}],"units":"inch"}`), &batch, DecodeOptions{RequireUnits: true})
	if len(in.Faults) > 0 || len(batch.Items) != 3 || batch.Items[0] != `{"tool":{"cutting_diameter":1}}` || batch.Items[1] != "5" {
		t.Fatalf("%+v %q", in, batch)
	}
	var c Cut
	if in := DecodeRaw(batch.Items[0], &c, DecodeOptions{Inherit: batch.Units}); len(in.Faults) > 0 || *c.Tool.CuttingDiameter != 25.4 {
		t.Fatalf("%+v", in)
	}
	if in := DecodeRaw(batch.Items[1], &c, DecodeOptions{Inherit: batch.Units}); in.Readable || in.Faults[0].Code != "json-invalid" {
		t.Fatalf("%+v", in)
	}
	if in := DecodeRaw(batch.Items[2], &c, DecodeOptions{Inherit: batch.Units}); !in.Readable || in.Faults[0].Code != "unknown-field" {
		t.Fatalf("%+v", in)
	}
}
