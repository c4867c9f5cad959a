package mtconnect_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"swarf/api/mtconnect"
)

const namespaced = `xmlns="urn:mtconnect.org:MTConnectAssets:1.8"`

func tool(inner string) string {
	return `<CuttingTool ` + namespaced + ` assetId="a" toolId="t"><CuttingToolLifeCycle>` + inner + `</CuttingToolLifeCycle></CuttingTool>`
}

// What is not one cutting tool, grows, or leads outside is refused.
func TestParseRefuses(t *testing.T) {
	deep := strings.Repeat("<x>", 40) + strings.Repeat("</x>", 40)
	attributes := ""
	for i := range 60 {
		attributes += fmt.Sprintf(` a%d="1"`, i)
	}
	for what, document := range map[string]string{
		"empty":                       "",
		"only blanks":                 "  \n",
		"no XML":                      "{}",
		"cut short":                   tool("")[:60],
		"another root":                `<Fixture ` + namespaced + `/>`,
		"another namespace":           `<CuttingTool xmlns="urn:example.org"/>`,
		"two of them":                 `<Assets>` + tool("") + tool("") + `</Assets>`,
		"two documents":               tool("") + tool(""),
		"a document type":             `<!DOCTYPE CuttingTool [<!ENTITY e "x">]>` + tool("&e;"),
		"a document type from beside": `<!DOCTYPE CuttingTool SYSTEM "file:///etc/passwd">` + tool(""),
		"an entity without a type":    tool("&boom;"),
		"too deep":                    tool(deep),
		"too many":                    tool(strings.Repeat("<x/>", 6_000)),
		"too many attributes":         tool("<x" + attributes + "/>"),
		"another encoding":            `<?xml version="1.0" encoding="ISO-8859-1"?>` + tool(""),
		"no UTF-8":                    tool("\xff"),
	} {
		if got, err := mtconnect.Parse([]byte(document)); err == nil {
			t.Errorf("%s: read as %+v", what, got)
		}
	}
	for what, document := range map[string]string{
		"the asset":           tool(""),
		"without a namespace": `<CuttingTool assetId="a"/>`,
		"another prefix":      `<m:MTConnectAssets xmlns:m="urn:mtconnect.org:MTConnectAssets:2.0"><m:Header/><m:Assets><m:CuttingTool assetId="a" toolId="t"/></m:Assets></m:MTConnectAssets>`,
		"a comment before":    `<?xml version="1.0"?><!-- c -->` + tool(""),
	} {
		if got, err := mtconnect.Parse([]byte(document)); err != nil || got.AssetID != "a" {
			t.Errorf("%s: %v %+v", what, err, got)
		}
	}
}

func dimensions(t *testing.T, inner string) *mtconnect.Taken {
	t.Helper()
	asset, err := mtconnect.Parse([]byte(tool(inner)))
	if err != nil {
		t.Fatal(err)
	}
	return asset.Dimensions()
}

// The value goes before the nominal one; the lead angle is what the cutting edge angle leaves
// of 90°; an element of another schema keeps its code.
func TestDimensions(t *testing.T) {
	got := dimensions(t, `<Measurements><CuttingDiameterMax nominal="12">11.98</CuttingDiameterMax><DepthOfCutMax nominal="26"/>
		<BodyLengthMax code="LBX"/><x:Helix xmlns:x="urn:x" code="FHA" units="DEGREE">38</x:Helix></Measurements>
		<CuttingItems count="2"><CuttingItem indices="1-2"><Measurements><ToolLeadAngle>30</ToolLeadAngle></Measurements></CuttingItem></CuttingItems>`)
	want := map[string]float64{"cutting_diameter": 11.98, "max_depth_of_cut": 26, "FHA": 38, "cutting_edge_angle": 60}
	for _, r := range got.Readings {
		name := r.Member
		if name == "" {
			name = r.Code
		}
		if v, ok := want[name]; !ok || v != r.Value {
			t.Errorf("%s is %v, want %v", name, r.Value, v)
		}
		delete(want, name)
	}
	if len(want) > 0 || len(got.Left) != 1 || len(got.Faults) > 0 {
		t.Errorf("missing %v, left %v, faults %v", want, got.Left, got.Faults)
	}
}

// Of several values none is taken; what the assembly says goes before its items.
func TestDimensionsInDispute(t *testing.T) {
	item := func(radius string) string {
		return `<CuttingItem indices="1"><Measurements><CornerRadius>` + radius + `</CornerRadius><CuttingDiameter>60</CuttingDiameter></Measurements></CuttingItem>`
	}
	got := dimensions(t, `<Measurements><CuttingDiameterMax>63</CuttingDiameterMax></Measurements><CuttingItems count="3">`+item("0.8")+item("0.4")+item("0.8")+`</CuttingItems>`)
	if len(got.Readings) != 1 || got.Readings[0].Value != 63 {
		t.Errorf("%+v", got.Readings)
	}
	if len(got.Left) != 6 {
		t.Errorf("%d left: %v", len(got.Left), got.Left)
	}
	for inner, want := range map[string]string{
		`<CuttingDiameterMax>twelve</CuttingDiameterMax>`:                "no number",
		`<CuttingDiameterMax>0x1p3</CuttingDiameterMax>`:                 "no number",
		`<CuttingDiameterMax>NaN</CuttingDiameterMax>`:                   "no number",
		`<CuttingDiameterMax>12,5</CuttingDiameterMax>`:                  "no number",
		`<CuttingDiameterMax units="MICROMETER">12</CuttingDiameterMax>`: "MILLIMETER",
		`<CuttingDiameterMax units="DEGREE" nominal="12"/>`:              "MILLIMETER",
	} {
		got := dimensions(t, `<Measurements>`+inner+`</Measurements>`)
		if len(got.Faults) != 1 || !strings.Contains(got.Faults[0].Why, want) || len(got.Readings) > 0 {
			t.Errorf("%s: %+v", inner, got)
		}
	}
}

// Cutting items in rows or groups do not say how many edges cut.
func TestEdges(t *testing.T) {
	const one = `<CuttingItem indices="1-4"/>`
	for items, want := range map[string]float64{
		`<CuttingItems count="4">` + one + `</CuttingItems>`:                                                                 4,
		`<CuttingItems count="24">` + one + one + `</CuttingItems>`:                                                          0,
		`<CuttingItems count="2">` + one + one + `</CuttingItems>`:                                                           2,
		`<CuttingItems count="4"><CuttingItem indices="1-4"><Locus>FLANGE: 1-4, ROW: 1</Locus></CuttingItem></CuttingItems>`: 0,
		`<CuttingItems count="0">` + one + `</CuttingItems>`:                                                                 0,
		`<CuttingItems count="many">` + one + `</CuttingItems>`:                                                              0,
	} {
		asset, err := mtconnect.Parse([]byte(tool(items)))
		if err != nil {
			t.Fatal(err)
		}
		if got, why := asset.Edges(); got != want || (got == 0) != (why != "") {
			t.Errorf("%s: %v (%s), want %v", items, got, why, want)
		}
	}
}

// FuzzParse: whatever it is sent, what is read stays within its bounds, numbers are numbers,
// and what is wrong is told with its element.
func FuzzParse(f *testing.F) {
	f.Add([]byte(tool(`<Measurements><CuttingDiameterMax>12</CuttingDiameterMax></Measurements>`)))
	f.Add([]byte(tool(`<Measurements><CuttingDiameterMax nominal="1e999">NaN</CuttingDiameterMax></Measurements><CuttingItems count="99999999999999999999"/>`)))
	f.Add([]byte(`<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>`))
	f.Fuzz(func(t *testing.T, document []byte) {
		asset, err := mtconnect.Parse(document)
		if err != nil {
			return
		}
		taken := asset.Dimensions()
		if len(taken.Readings)+len(taken.Left)+len(taken.Faults) > 5_000 {
			t.Error("more was read than there can be")
		}
		for _, r := range taken.Readings {
			if r.Element == "" || math.IsNaN(r.Value) || math.IsInf(r.Value, 0) {
				t.Errorf("%+v", r)
			}
		}
		for _, fault := range taken.Faults {
			if fault.Element == "" {
				t.Errorf("%+v", fault)
			}
		}
		if count, why := asset.Edges(); count < 0 || count > 0 && why != "" || count != math.Trunc(count) {
			t.Errorf("%v edges, %s", count, why)
		}
	})
}
