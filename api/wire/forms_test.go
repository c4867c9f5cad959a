package wire

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"swarf/domain/unit"
)

func TestAnswerAsText(t *testing.T) {
	a := &Answer{
		Units: "inch", DataRevision: 7, ModelVersion: "1.0", Verdict: "conditional", Material: WorkMaterial{Group: "M"}, Operation: "drilling",
		Parameters: &Motion{SpindleSpeed: unit.Some(1591.5494309), FeedRate: unit.Some(25.4)}, EdgeState: "sharp",
		Loads:    &Loads{Interval: &Interval{Torque: &Band{unit.Some(1.3558179483314004), unit.Some(13.558179483314004), 0.9}}},
		Findings: []Finding{{Code: "x", Severity: "hold", Message: "≤ 5 N·m – 20 °C\nor Ø 3 µm² × ½ Ж"}, {Code: "y", Severity: "note"}},
		Assumed:  []Assumed{{Field: "tool.body", Value: "steel", Why: "usual"}, {Field: "tool.point_angle", Value: 140.0, Unit: "deg"}},
	}
	got, err := AppendText(nil, a, unit.Inch)
	if err != nil {
		t.Fatal(err)
	}
	want := `units=inch
unit_of.spindle_speed=/min
unit_of.feed_rate=[in_i]/min
unit_of.torque=[lbf_av].[ft_i]
data_revision=7
model_version=1.0
verdict=conditional
material.group=M
operation=drilling
parameters.spindle_speed=1591.55
parameters.feed_rate=1
edge_state=sharp
loads.interval.torque.low=1
loads.interval.torque.high=10
loads.interval.torque.confidence=0.9
findings[0].code=x
findings[0].severity=hold
findings[0].message=<= 5 N.m - 20 degC or O 3 um2 x 1/2 ?
findings[1].code=y
findings[1].severity=note
findings[1].message=
assumed[0].field=tool.body
assumed[0].value=steel
assumed[0].why=usual
assumed[1].field=tool.point_angle
assumed[1].value=140
assumed[1].unit=deg
assumed[1].why=
status=warn
lines=30
`
	if diff := cmp.Diff(want, string(AppendTextClose(got, "warn"))); diff != "" {
		t.Error(diff)
	}
	if n := strings.Count(want, "\n"); n != 30 {
		t.Errorf("the text above has %d lines", n)
	}
}

// The flat forms have the digits of the JSON: every line and every cell is looked
// up there.
func TestFormsAgree(t *testing.T) {
	a := drillAnswer()
	for _, system := range []unit.System{unit.Metric, unit.Inch} {
		body, err := AppendJSON(nil, a, system)
		if err != nil {
			t.Fatal(err)
		}
		decoder := json.NewDecoder(bytes.NewReader(body))
		decoder.UseNumber()
		var tree map[string]any
		if err := decoder.Decode(&tree); err != nil {
			t.Fatal(err)
		}
		values := map[string]string{}
		spread("", tree, values)

		text, err := AppendText(nil, a, system)
		if err != nil {
			t.Fatal(err)
		}
		lines := map[string]string{}
		for line := range strings.Lines(string(text)) {
			key, value, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "=")
			lines[key] = value
		}
		if diff := cmp.Diff(values, lines); diff != "" {
			t.Errorf("%v: JSON and text differ:\n%s", system, diff)
		}

		table, err := AppendCSV(nil, a, system)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
		if err != nil || len(rows) != 2 {
			t.Fatalf("%d rows, %v", len(rows), err)
		}
		cells := map[string]string{}
		codes := 0
		for i, heading := range rows[0] {
			path, code, measured := strings.Cut(heading, " [")
			cells[path] = rows[1][i]
			if measured {
				codes++
				parts := strings.Split(path, ".")
				name := parts[len(parts)-1]
				if _, known := values["unit_of."+name]; !known || name == "low" {
					name = parts[len(parts)-2] // of a band
				}
				if want := values["unit_of."+name]; strings.TrimSuffix(code, "]") != want {
					t.Errorf("%s: unit_of says %s", heading, want)
				}
			}
		}
		for key := range values {
			if strings.HasPrefix(key, "unit_of.") {
				delete(values, key)
			}
		}
		if diff := cmp.Diff(values, cells); diff != "" {
			t.Errorf("%v: JSON and CSV differ:\n%s", system, diff)
		}
		if codes < 30 {
			t.Errorf("only %d headings have a unit", codes)
		}
	}
}

func spread(path string, v any, values map[string]string) {
	switch v := v.(type) {
	case map[string]any:
		for name, inner := range v {
			if path != "" {
				name = path + "." + name
			}
			spread(name, inner, values)
		}
	case []any:
		for i, inner := range v {
			spread(path+"["+strconv.Itoa(i)+"]", inner, values)
		}
	default:
		values[path] = fmt.Sprint(v)
	}
}

func TestListAsCSV(t *testing.T) {
	b := &Batch{Units: "inch", DataRevision: 7, ModelVersion: "1.0", Items: []any{
		&Answer{Ref: "=1+1", Verdict: "yes", Material: WorkMaterial{Group: "M"}, Operation: "a,b", Chip: &Chip{Width: unit.Some(-25.4)}},
		&Problem{Ref: "2", Title: "say \"no\"", Status: 422, Detail: "two\r\nlines", Code: "c"},
		&Answer{Ref: "@3", Verdict: "no", Material: WorkMaterial{Group: "P"}, Operation: "\t+", Parameters: &Motion{CuttingSpeed: unit.Some(30.48)}},
	}}
	got, err := AppendCSV(nil, b, unit.Inch)
	if err != nil {
		t.Fatal(err)
	}
	want := "units,data_revision,model_version,ref,verdict,material.group,operation,parameters.cutting_speed [[ft_i]/min],chip.width [[in_i]],edge_state,type,title,status,detail,code\r\n" +
		"inch,7,1.0,'=1+1,yes,M,\"a,b\",,-1,,,,,,\r\n" +
		"inch,7,1.0,2,,,,,,,,\"say \"\"no\"\"\",422,two  lines,c\r\n" +
		"inch,7,1.0,'@3,no,P,' +,100,,,,,,,\r\n"
	if string(got) != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	empty, err := AppendCSV(nil, &MaterialList{}, unit.Metric)
	if err != nil || string(empty) != "\r\n" {
		t.Errorf("an empty list: %q, %v", empty, err)
	}
}

func TestCellsOfATable(t *testing.T) {
	for text, want := range map[string]string{
		"plain": "plain", "": "", "=1": "'=1", "+1": "'+1", "-1": "'-1", "@a": "'@a", "\ta": "' a", "\ra": "' a", "a=1": "a=1", "a\"b": "\"a\"\"b\"", "=a,b": "\"'=a,b\"", "a\xff": "a\ufffd",
	} {
		if got := string(appendCell(nil, text, ',')); got != want {
			t.Errorf("%q is written %s, want %s", text, got, want)
		}
	}
}

func TestSelectedFields(t *testing.T) {
	a := &Answer{Ref: "r", Units: "metric", DataRevision: 7, ModelVersion: "1.0", Verdict: "yes", Parameters: &Motion{CuttingSpeed: unit.Some(1), SpindleSpeed: unit.Some(2)},
		Loads: &Loads{Torque: unit.Some(3), Interval: &Interval{Torque: &Band{unit.Some(1), unit.Some(2), 0.9}}}, Findings: []Finding{{Code: "c", Message: "m"}, {Code: "d"}}}
	s, faults := Select([]string{"findings.code", "loads", "loads.torque", "parameters.spindle_speed"}, a)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	got, err := s.AppendJSON(nil, a, unit.Metric)
	want := `{"ref":"r","units":"metric","unit_of":{"spindle_speed":"/min","torque":"N.m"},"data_revision":7,"model_version":"1.0","verdict":"yes","parameters":{"spindle_speed":2},` +
		`"loads":{"torque":3,"interval":{"torque":{"low":1,"high":2,"confidence":0.9}}},"findings":[{"code":"c"},{"code":"d"}]}`
	if err != nil || string(got) != want {
		t.Errorf("got  %s (%v)\nwant %s", got, err, want)
	}
	s, _ = Select([]string{"parameters.spindle_speed"}, a)
	got, err = s.AppendText(nil, a, unit.Metric)
	if want := "ref=r\nunits=metric\nunit_of.spindle_speed=/min\ndata_revision=7\nmodel_version=1.0\nverdict=yes\nparameters.spindle_speed=2\n"; err != nil || string(got) != want {
		t.Errorf("got %s (%v)", got, err)
	}

	b := &Batch{Units: "metric", Items: []any{&Problem{Title: "t"}, a}}
	s, faults = Select([]string{"parameters.spindle_speed"}, b)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	got, err = s.AppendCSV(nil, b, unit.Metric, CSVStyle{})
	if want := "units,data_revision,model_version,type,title,status,detail,code,ref,verdict,parameters.spindle_speed [/min]\r\n"; err != nil || !strings.HasPrefix(string(got), want) {
		t.Errorf("got %s (%v)", got, err)
	}
	if s, faults := Select([]string{"x"}, &Batch{Items: []any{&Problem{}}}); s != nil || faults != nil {
		t.Error("nothing but problems has fields to select")
	}

	_, faults = Select([]string{"lods", "loads.torqe", "ref.x", "loads.interval.tork"}, a)
	if diff := cmp.Diff([]string{"400 unknown-field fields", "400 unknown-field fields", "400 unknown-field fields", "400 unknown-field fields"}, told(faults)); diff != "" {
		t.Fatal(diff)
	}
	for i, fix := range []string{"did you mean loads?", "did you mean loads.torque?", "ask for ref", "loads.interval"} {
		if !strings.Contains(faults[i].Fix, fix) && !strings.Contains(faults[i].Message, fix) {
			t.Errorf("%q is not in %+v", fix, faults[i])
		}
	}
}

func TestFill(t *testing.T) {
	const text = "the hole is {value} deep, over {limit}; {other} stays"
	value, limit := unit.Of(unit.Length, 127), unit.Of(unit.Length, 0.0254*4.567891)
	for system, want := range map[unit.System]string{
		unit.Metric: "the hole is 127 mm deep, over 0.116 mm; {other} stays",
		unit.Inch:   "the hole is 5 in deep, over 0.00457 in; {other} stays",
	} {
		if got := Fill(text, value, limit, system); got != want {
			t.Errorf("%v: %s", system, got)
		}
	}
	for _, c := range []struct {
		m            *unit.Measure
		metric, inch string
	}{
		{unit.Of(unit.Torque, 38.19712), "38.1971 N·m", "28.1727 lbf·ft"},
		{unit.Of(unit.Power, 0.745699871582), "0.7457 kW", "1 hp"},
		{unit.Of(unit.Rotation, 1591.5494309), "1591.55 1/min", "1591.55 1/min"},
		{unit.Of(unit.Temperature, 20), "20 °C", "68 °F"},
		{unit.Of(unit.Angle, 118), "118°", "118°"},
		{unit.Of(unit.None, 0.85), "0.85", "0.85"},
		{unit.Of(unit.Force, 1234567890.123), "1234570000 N", "277542000 lbf"},
		{unit.Of(unit.Length, 0), "0 mm", "0 in"},
		{unit.Of(unit.Length, -0.005), "-0.005 mm", "-0.000197 in"},
		{nil, "", ""},
	} {
		if got := Measured(c.m, unit.Metric); got != c.metric {
			t.Errorf("metric: %s, want %s", got, c.metric)
		}
		if got := Measured(c.m, unit.Inch); got != c.inch {
			t.Errorf("inch: %s, want %s", got, c.inch)
		}
	}
	if got := Fill("a { b {value", value, nil, unit.Metric); got != "a { b {value" {
		t.Errorf("broken places: %q", got)
	}
}

func TestASCII(t *testing.T) {
	got := string(appendASCII(nil, "20 °C, 5 N·m ≤ 6 – “x” Ж\r\n\x7f\xff"))
	if got != `20 degC, 5 N.m <= 6 - "x" ?   ?` {
		t.Errorf("%q", got)
	}
	for r, text := range asciiOf {
		if strings.ContainsFunc(text, func(r rune) bool { return r < ' ' || r > '~' }) {
			t.Errorf("%c becomes %q", r, text)
		}
	}
}
