package api_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"math"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

const (
	assetSchema  = "../testdata/schemas/mtconnect/CuttingTool_2.7.xsd"
	masterSchema = "../testdata/schemas/b2mml/WorkMaster_0701.xsd"
)

// fitsSchema holds a document against a public schema with libxml2.
func fitsSchema(t *testing.T, schema string, document []byte) error {
	t.Helper()
	program, err := exec.LookPath("xmllint")
	if err != nil {
		t.Fatal("xmllint is not here: install libxml2-utils (Debian, Ubuntu) or libxml2 (Fedora), or run deploy/check xmllint")
	}
	check := exec.Command(program, "--noout", "--nonet", "--schema", schema, "-")
	check.Stdin = bytes.NewReader(document)
	var said bytes.Buffer
	check.Stderr = &said
	if err := check.Run(); err != nil {
		return &xml.SyntaxError{Msg: said.String()}
	}
	return nil
}

func TestSchemasFindFaults(t *testing.T) {
	const asset = `<CuttingTool xmlns="urn:mtconnect.org:MTConnectAssets:2.7" assetId="a" toolId="t" timestamp="2026-03-02T08:00:00Z" deviceUuid="d"><CuttingToolLifeCycle><CutterStatus><Status>NEW</Status></CutterStatus><ProcessFeedRate nominal="2">2</ProcessFeedRate></CuttingToolLifeCycle></CuttingTool>`
	const master = `<WorkMaster xmlns="http://www.mesa.org/xml/B2MML"><ID>a</ID><ParameterSpecification><ID>p</ID><Value><ValueString>1</ValueString><DataType>double</DataType></Value></ParameterSpecification></WorkMaster>`
	for _, c := range []struct{ schema, document, old, spoilt string }{
		{assetSchema, asset, "", ""},
		{assetSchema, asset, ` toolId="t"`, ""},
		{assetSchema, asset, `nominal="2"`, `nominal="quick"`},
		{assetSchema, asset, ">NEW<", ">OLD<"},
		{assetSchema, asset, ">2<", ">2 mm/s<"},
		{masterSchema, master, "", ""},
		{masterSchema, master, ">double<", ">number<"},
		{masterSchema, master, "<ID>a</ID>", ""},
	} {
		err := fitsSchema(t, c.schema, []byte(strings.Replace(c.document, c.old, c.spoilt, 1)))
		if (err == nil) != (c.old == "") {
			t.Errorf("%q for %q: %v", c.spoilt, c.old, err)
		}
	}
}

func sendAsset(t *testing.T, query, document string) reply {
	t.Helper()
	return call(t, embeddedService(t), "POST", "/v1/tool-assets?"+query, document, asXML)
}

// A presetter's asset becomes a tool that goes into a cut as it is. Feed rates are in mm/s in
// the standard: 16 mm/s are 960 mm/min.
func TestAssetBecomesATool(t *testing.T) {
	document, err := os.ReadFile("../testdata/mtconnect/face-mill.xml")
	if err != nil {
		t.Fatal(err)
	}
	got := sendAsset(t, "class=mill-face", string(document))
	if got.status != 200 {
		t.Fatalf("%d %s", got.status, got.body)
	}
	tool := member0(got.doc, "tool")
	for name, want := range map[string]any{"class": "mill-face", "cutting_diameter": 63.012, "max_depth_of_cut": 6.0, "protruding_length": 95.0, "max_ramp_angle": 3.5,
		"effective_edges": 6.0, "corner_radius": 0.8, "cutting_edge_angle": 45.0, "tool_material": "HC", "max_spindle_speed": 5200.0} {
		if v := member0(tool, name); v != want {
			t.Errorf("%s is %v, want %v", name, v, want)
		}
	}
	for path, want := range map[string]float64{"parameters.spindle_speed": 800, "parameters.feed_rate": 960, "process.spindle_speed.minimum": 600, "process.spindle_speed.target": 780,
		"process.feed_rate.nominal": 960, "tool_life[0].limit": 30, "tool_life[0].value": 12.5} {
		if nodes, err := find(got.doc, path); err != nil || len(nodes) != 1 || nodes[0].value != want {
			t.Errorf("%s: %v %v, want %v", path, nodes, err, want)
		}
	}
	for _, need := range []string{"BodyDiameterMax", "the assembly's own is taken", "the cutting items are taken for the edges"} {
		if !strings.Contains(string(got.body), need) {
			t.Errorf("the answer does not say %s", need)
		}
	}
	// into an estimate, as it is
	body, err := json.Marshal(map[string]any{"units": "metric", "material": map[string]any{"grade": "C45E"}, "operation": "face-milling", "tool": tool,
		"engagement": map[string]any{"axial_depth": 2, "radial_width": 45}, "parameters": member0(got.doc, "parameters")})
	if err != nil {
		t.Fatal(err)
	}
	if cut := call(t, embeddedService(t), "POST", "/v1/estimates", string(body), asJSON); cut.status != 200 || member0(member0(cut.doc, "parameters"), "feed_rate") != 960.0 {
		t.Errorf("%d %.500s", cut.status, cut.body)
	}
	inch := sendAsset(t, "class=mill-face&units=inch", string(document))
	if d, _ := member0(member0(inch.doc, "tool"), "cutting_diameter").(float64); math.Abs(d-63.012/25.4) > 1e-12 {
		t.Errorf("%v in", d)
	}
}

// Every fault of an asset is told at once, with its element.
func TestAssetFaults(t *testing.T) {
	const head, tail = `<CuttingTool xmlns="urn:mtconnect.org:MTConnectAssets:2.0" assetId="a" toolId="t"><CuttingToolLifeCycle>`, `</CuttingToolLifeCycle></CuttingTool>`
	for inner, want := range map[string][]string{
		`<Measurements><CuttingDiameterMax>-3</CuttingDiameterMax></Measurements><ProcessFeedRate nominal="fast"/>`: {"Measurements.CuttingDiameterMax", "ProcessFeedRate.nominal", "value-out-of-range"},
		`<ProcessSpindleSpeed maximum="-100"/>`:                                                  {"ProcessSpindleSpeed.maximum", "negative"},
		`<Measurements><CuttingDiameterMax units="DEGREE">3</CuttingDiameterMax></Measurements>`: {"MILLIMETER"},
		`<ToolLife type="MINUTES" countDirection="UP" limit="long">1</ToolLife>`:                 {"ToolLife[0].limit"},
	} {
		got := sendAsset(t, "class=mill-end", head+inner+tail)
		if got.status != 422 {
			t.Errorf("%s: %d %s", inner, got.status, got.body)
		}
		for _, part := range want {
			if !strings.Contains(string(got.body), part) {
				t.Errorf("%s: %s does not say %s", inner, got.body, part)
			}
		}
	}
	for query, want := range map[string]string{"": "field-missing", "class=mill-ende": "mill-end", "class=mill-end&colour=red": "unknown-parameter"} {
		if got := sendAsset(t, query, head+tail); got.status < 400 || !strings.Contains(string(got.body), want) {
			t.Errorf("%s: %d %s", query, got.status, got.body)
		}
	}
	for document, want := range map[string]string{"{}": "xml-invalid", `<!DOCTYPE a SYSTEM "x">` + head + tail: "document type", head: "xml-invalid"} {
		if got := sendAsset(t, "class=mill-end", document); got.status != 400 || !strings.Contains(string(got.body), want) {
			t.Errorf("%s: %d %s", document, got.status, got.body)
		}
	}
}

const toExport = "/v1/recommendations?ref=op-30&machine=vmc-40&units=metric&grade=1.4301&operation=side-milling&class=mill-end&DC=12&ZEFP=4&RE=0.5&APMX=26&axial_depth=12&radial_width=3"

// A recommendation as an asset fits the public schema and says the same as its JSON: revolutions
// per minute as they are, mm/min as mm/s, the ends of the override window as least and most.
func TestRecommendationAsAnAsset(t *testing.T) {
	h := embeddedService(t)
	answer := call(t, h, "GET", toExport+"&window=true", "")
	got := call(t, h, "GET", toExport+"&format=mtconnect", "")
	if got.status != 200 {
		t.Fatalf("%d %s", got.status, got.body)
	}
	if err := fitsSchema(t, assetSchema, got.body); err != nil {
		t.Fatalf("%v\n%s", err, got.body)
	}
	var asset struct {
		AssetID string `xml:"assetId,attr"`
		Device  string `xml:"deviceUuid,attr"`
		Speed   span   `xml:"CuttingToolLifeCycle>ProcessSpindleSpeed"`
		Feed    span   `xml:"CuttingToolLifeCycle>ProcessFeedRate"`
		Words   string `xml:"Description"`
	}
	if err := xml.Unmarshal(got.body, &asset); err != nil {
		t.Fatal(err)
	}
	number := func(path string) float64 {
		nodes, err := find(answer.doc, path)
		if err != nil || len(nodes) != 1 {
			t.Fatalf("%s: %v %v", path, nodes, err)
		}
		return nodes[0].value.(float64)
	}
	for _, c := range []struct {
		of           span
		nominal      float64
		window, what string
	}{{asset.Speed, number("parameters.spindle_speed"), "speed", "spindle speed"}, {asset.Feed, number("parameters.feed_rate") / 60, "feed", "feed rate"}} {
		for _, pair := range [][2]float64{{c.of.Nominal, c.nominal}, {c.of.Value, c.nominal}, {c.of.Minimum, c.nominal * number("override_window."+c.window+".low")}, {c.of.Maximum, c.nominal * number("override_window."+c.window+".high")}} {
			if math.Abs(pair[0]-pair[1]) > 2e-5*pair[1] {
				t.Errorf("%s: %v, want %v (%+v)", c.what, pair[0], pair[1], c.of)
			}
		}
		if !(c.of.Minimum <= c.of.Nominal && c.of.Nominal <= c.of.Maximum) {
			t.Errorf("%s: %+v", c.what, c.of)
		}
	}
	turned := "/v1/recommendations?units=metric&group=P&operation=turning&class=turning-external&work_diameter=60&depth_of_cut=2"
	life := call(t, h, "GET", turned, "")
	if low, err := find(life.doc, "tool_life.low"); err != nil || len(low) != 1 || !strings.Contains(string(call(t, h, "GET", turned+"&format=mtconnect", "").body), `limit="`+strconv.FormatFloat(low[0].value.(float64), 'f', -1, 64)+`"`) {
		t.Errorf("the life that an edge is counted against is not the one it outlives: %v %v", low, err)
	}
	if asset.AssetID != "op-30" || asset.Device != "vmc-40" || !strings.Contains(asset.Words, "verdict "+textOf(answer.doc, "verdict")) {
		t.Errorf("%+v", asset)
	}
	// and back: what the schema has elements for is as it was
	back := call(t, h, "POST", "/v1/tool-assets?class=mill-end", string(got.body), asXML)
	for name, want := range map[string]float64{"cutting_diameter": 12, "effective_edges": 4, "corner_radius": 0.5, "max_depth_of_cut": 26} {
		if v := member0(member0(back.doc, "tool"), name); v != want {
			t.Errorf("%s came back as %v, want %v", name, v, want)
		}
	}
	accepted := call(t, h, "GET", toExport, "", "Accept: application/vnd.swarf.mtconnect+xml")
	if accepted.status != 200 || !strings.HasPrefix(accepted.header.Get("Content-Type"), "application/vnd.swarf.mtconnect+xml") {
		t.Errorf("%d %v", accepted.status, accepted.header)
	}
	browser := call(t, h, "GET", toExport, "", "Accept: text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8")
	if strings.Contains(browser.header.Get("Content-Type"), "xml") {
		t.Errorf("a browser gets %s", browser.header.Get("Content-Type"))
	}
}

type span struct {
	Minimum float64 `xml:"minimum,attr"`
	Nominal float64 `xml:"nominal,attr"`
	Maximum float64 `xml:"maximum,attr"`
	Value   float64 `xml:",chardata"`
}
