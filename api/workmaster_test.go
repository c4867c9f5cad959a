package api_test

import (
	"encoding/xml"
	"maps"
	"os"
	"strings"
	"testing"
)

// master is what a test reads of a work master.
type master struct {
	ID          string   `xml:"ID"`
	Description []string `xml:"Description"`
	Parameters  []struct {
		ID    string `xml:"ID"`
		Text  string `xml:"Value>ValueString"`
		Type  string `xml:"Value>DataType"`
		Unit  string `xml:"Value>UnitOfMeasure"`
		Words string `xml:"Description"`
	} `xml:"ParameterSpecification"`
	Equipment string   `xml:"EquipmentSpecification>EquipmentID"`
	Material  string   `xml:"MaterialSpecification>MaterialDefinitionID"`
	Children  []master `xml:"WorkMasterChild"`
}

func readMaster(t *testing.T, got reply) master {
	t.Helper()
	if got.status != 200 {
		t.Fatalf("%d %s", got.status, got.body)
	}
	if err := fitsSchema(t, masterSchema, got.body); err != nil {
		t.Fatalf("%v\n%.2000s", err, got.body)
	}
	var m master
	if err := xml.Unmarshal(got.body, &m); err != nil {
		t.Fatal(err)
	}
	return m
}

// A work master fits the public schema, has the digits of the JSON, and a common code of
// UN/ECE Recommendation 20 beside every number with a unit that has one.
func TestAnswerAsAWorkMaster(t *testing.T) {
	h := embeddedService(t)
	for _, route := range []string{"/v1/recommendations?", "/v1/estimates?spindle_speed=2000&"} {
		for system, want := range map[string]map[string]string{
			"metric": {"parameters.cutting_speed": "2X", "parameters.spindle_speed": "M46", "parameters.feed_per_tooth": "MMT", "parameters.feed_rate": "H81", "loads.cutting_force": "NEW", "loads.torque": "NU", "loads.cutting_power": "KWT", "loads.removal_rate": "G49", "tool.cutting_diameter": "MMT"},
			"inch":   {"parameters.cutting_speed": "FR", "parameters.spindle_speed": "M46", "parameters.feed_rate": "M63", "loads.torque": "M92", "loads.cutting_power": "BHP", "tool.cutting_diameter": "INH"},
		} {
			target := route + "ref=op-30&machine=vmc-40&units=" + system + "&grade=1.4301&operation=side-milling&class=mill-end&ZEFP=4&" + map[string]string{"metric": "DC=12&axial_depth=12&radial_width=3", "inch": "DC=0.5&axial_depth=0.5&radial_width=0.1"}[system]
			if strings.HasPrefix(route, "/v1/estimates") {
				target += "&feed_per_tooth=" + map[string]string{"metric": "0.05", "inch": "0.002"}[system]
			}
			want := maps.Clone(want)
			answer, m := call(t, h, "GET", target, ""), readMaster(t, call(t, h, "GET", target+"&format=b2mml", ""))
			lines := call(t, h, "GET", target+"&format=text", "")
			for _, p := range m.Parameters {
				if unit, ok := want[p.ID]; ok && p.Unit != unit {
					t.Errorf("%s: %s is in %s, want %s", target, p.ID, p.Unit, unit)
				}
				delete(want, p.ID)
				if strings.HasPrefix(p.ID, "parameters.") && !strings.Contains(string(lines.body), "\n"+p.ID+"="+p.Text+"\n") {
					t.Errorf("%s: %s is %s, not as in text", target, p.ID, p.Text)
				}
			}
			if len(want) > 0 || m.ID != "op-30" || m.Equipment != "vmc-40" || m.Material != textOf(member0(answer.doc, "material"), "id") || !strings.Contains(m.Description[0], textOf(answer.doc, "verdict")) {
				t.Errorf("%s: missing %v in %+v", target, want, m)
			}
		}
	}
}

// A routing is a work master with a child for each cut.
func TestPlanAsAWorkMaster(t *testing.T) {
	body, err := os.ReadFile("../testdata/plans/valve-block.json")
	if err != nil {
		t.Fatal(err)
	}
	h := embeddedService(t)
	answer := call(t, h, "POST", "/v1/plans", string(body), asJSON)
	m := readMaster(t, call(t, h, "POST", "/v1/plans?format=b2mml", string(body), asJSON))
	cuts := member0(answer.doc, "cuts").([]any)
	if len(m.Children) != len(cuts) || len(cuts) == 0 {
		t.Fatalf("%d children of %d cuts", len(m.Children), len(cuts))
	}
	for i, child := range m.Children {
		if child.ID != textOf(cuts[i], "ref") || child.Equipment != textOf(cuts[i], "machine") || len(child.Parameters) < 10 {
			t.Errorf("%+v of %v", child, cuts[i])
		}
	}
	selected := readMaster(t, call(t, h, "POST", "/v1/plans?format=b2mml&fields=machines.total", string(body), asJSON))
	if len(selected.Parameters) >= len(m.Parameters) {
		t.Errorf("%d of %d parameters", len(selected.Parameters), len(m.Parameters))
	}
}

// What must not run has no document that a machine or an MES could take.
func TestRefusedCutsHaveNoDocument(t *testing.T) {
	const refused = "units=metric&grade=1.4301&operation=drilling&class=drill-twist-hss&cutting_diameter=8&hole_depth=20&through=true&usable_length=10&protruding_length=12"
	h := embeddedService(t)
	if got := call(t, h, "GET", "/v1/recommendations?"+refused, ""); textOf(got.doc, "verdict") != "no" {
		t.Fatalf("not refused: %.600s", got.body)
	}
	for _, target := range []string{"/v1/recommendations?format=mtconnect&" + refused, "/v1/recommendations?format=b2mml&" + refused, "/v1/estimates?format=b2mml&cutting_speed=12&feed_per_revolution=0.1&" + refused} {
		if got := call(t, h, "GET", target, ""); got.status != 406 || !strings.Contains(string(got.body), "refused") {
			t.Errorf("%s: %d %.300s", target, got.status, got.body)
		}
	}
}
