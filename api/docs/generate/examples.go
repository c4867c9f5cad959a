package generate

import (
	"encoding/json"
	"strconv"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"

	samples "swarf/api/docs/worked"
)

// Requests by GET that the page has filled in.
var (
	drill = map[string]string{"units": "metric", "grade": "1.4301", "condition": "annealed", "operation": "drilling", "class": "drill-indexable",
		"cutting_diameter": "30", "hole_depth": "60", "through": "true", "cutting_speed": "120", "feed_per_revolution": "0.1", "machine": "vmc-50"}
	slot     = map[string]string{"units": "inch", "grade": "A96061", "operation": "slot-milling", "class": "mill-end", "cutting_diameter": "0.5", "effective_edges": "3", "axial_depth": "0.25"}
	faceMill = map[string]string{"units": "metric", "grade": "1.7225", "operation": "face-milling", "class": "mill-face", "cutting_diameter": "63", "effective_edges": "5",
		"axial_depth": "3", "radial_width": "45", "cutting_speed": "160", "feed_per_tooth": "0.2", "machines": "vmc-40,vmc-50,hmc-63"}
	meter = map[string]string{"units": "metric", "grade": "1.4301", "condition": "annealed", "operation": "turning", "class": "turning-external", "corner_radius": "0.8", "work_diameter": "60", "depth_of_cut": "2",
		"cutting_speed": "140", "feed_per_revolution": "0.25", "machine": "lathe-315", "power": "7.5", "minutes_in_cut": "9", "other_machine_ratio": "1.02"}
	bore = map[string]string{"units": "metric", "feature": "internal", "sides_cut": "2", "programmed": "40", "measured": "39.98", "register": "radius"}
)

// worked are bodies to try from the page.
var worked = map[string]map[string]string{
	"/v1/estimates": {
		"1 drill":               `{"units":"metric","ref":"op-30","material":{"grade":"1.4301","condition":"annealed"},"operation":"drilling","tool":{"class":"drill-indexable","cutting_diameter":30},"engagement":{"hole_depth":60,"through":true},"parameters":{"cutting_speed":120,"feed_per_revolution":0.1},"machine":"vmc-50","coolant":{"delivery":"external"}}`,
		"2 face mill in inches": `{"units":"inch","material":{"grade":"304","condition":"annealed"},"operation":"face-milling","tool":{"class":"mill-face","cutting_diameter":3,"effective_edges":5},"engagement":{"axial_depth":0.08,"radial_width":2.2},"parameters":{"cutting_speed":450,"feed_per_tooth":0.006},"machine":"vmc-50"}`,
		"3 turned diameter":     `{"units":"metric","material":{"grade":"1.4301","condition":"annealed"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":140,"feed_per_revolution":0.25},"machine":"lathe-200"}`,
	},
	"/v1/estimates/batch": {
		"two holes": `{"units":"metric","items":[{"ref":"a","material":{"grade":"C45E"},"operation":"drilling","tool":{"class":"drill-twist-hss","cutting_diameter":8},"engagement":{"hole_depth":20,"through":true},"parameters":{"cutting_speed":22,"feed_per_revolution":0.16}},{"ref":"b","material":{"grade":"EN-GJL-250"},"operation":"drilling","tool":{"class":"drill-twist-hss","cutting_diameter":12},"engagement":{"hole_depth":25,"through":false},"parameters":{"cutting_speed":25,"feed_per_revolution":0.25}}]}`,
	},
	"/v1/recommendations": {
		"end mill": `{"units":"metric","material":{"grade":"1.4301","condition":"annealed"},"operation":"side-milling","tool":{"class":"mill-end","cutting_diameter":12,"effective_edges":4},"engagement":{"axial_depth":12,"radial_width":3},"machine":"vmc-40"}`,
	},
	"/v1/recommendations/batch": {
		"one slot, two grades": `{"units":"inch","items":[{"ref":"6061","material":{"grade":"A96061"},"operation":"slot-milling","tool":{"class":"mill-end","cutting_diameter":0.5,"effective_edges":3},"engagement":{"axial_depth":0.25}},{"ref":"304","material":{"grade":"304"},"operation":"slot-milling","tool":{"class":"mill-end","cutting_diameter":0.5,"effective_edges":4},"engagement":{"axial_depth":0.1}}]}`,
	},
	"/v1/spindle-checks": {
		"one cut, three machines": `{"units":"metric","cut":{"ref":"top","material":{"grade":"1.7225"},"operation":"face-milling","tool":{"class":"mill-face","cutting_diameter":63,"effective_edges":5},"engagement":{"axial_depth":3,"radial_width":45},"parameters":{"cutting_speed":160,"feed_per_tooth":0.2}},"machines":["vmc-40","vmc-50","hmc-63"]}`,
	},
	"/v1/spindle-checks/batch": {
		"a pair": `{"units":"metric","items":[{"cut":{"ref":"top","material":{"grade":"1.7225"},"operation":"face-milling","tool":{"class":"mill-face","cutting_diameter":63,"effective_edges":5},"engagement":{"axial_depth":3,"radial_width":45},"parameters":{"cutting_speed":160,"feed_per_tooth":0.2}},"machine":"vmc-50"}]}`,
	},
	"/v1/corrections": {
		"bore two hundredths small": `{"units":"metric","feature":"internal","sides_cut":2,"programmed":40,"measured":39.98,"register":"radius"}`,
	},
	"/v1/records/{id}/approval": {
		"from a day on": `{"reason":"agrees with the meter within 4 %","valid_from":"2026-12-01T06:00:00Z"}`,
	},
	"/v1/records/{id}/withdrawal": {
		"for safety": `{"reason":"the cutter burst at this speed","safety":true}`,
	},
	"/v1/plans": {
		"a block in two set-ups": `{"units":"metric","purpose":"what-if","machines":["vmc-40","vmc-50","hmc-63"],"allowances":{"approach":4,"positioning":1.5},"cuts":[{"ref":"10-face","setup":"first side","material":{"grade":"1.4301","condition":"annealed"},"operation":"face-milling","tool":{"class":"mill-face","cutting_diameter":63,"effective_edges":5,"cutting_edge_angle":45},"engagement":{"axial_depth":1.5,"radial_width":45,"length":240}},{"ref":"20-outline","setup":"first side","material":{"grade":"1.4301","condition":"annealed"},"operation":"side-milling","tool":{"class":"mill-end","cutting_diameter":16,"effective_edges":4},"engagement":{"axial_depth":20,"radial_width":2,"length":520}},{"ref":"30-spot","setup":"first side","count":8,"material":{"grade":"1.4301","condition":"annealed"},"operation":"spot-drilling","tool":{"class":"drill-spot","cutting_diameter":10},"engagement":{"hole_depth":3,"through":false}},{"ref":"40-holes","setup":"first side","count":8,"material":{"grade":"1.4301","condition":"annealed"},"operation":"drilling","tool":{"class":"drill-solid-carbide","cutting_diameter":8.5},"engagement":{"hole_depth":30,"through":true}},{"ref":"50-threads","setup":"first side","count":8,"material":{"grade":"1.4301","condition":"annealed"},"operation":"tapping","tool":{"class":"tap-cutting","cutting_diameter":10},"engagement":{"nominal_diameter":10,"pitch":1.5,"thread_depth":20,"hole_depth":30,"hole_diameter":8.5,"through":true}},{"ref":"60-bore-rough","setup":"first side","material":{"grade":"1.4301","condition":"annealed"},"operation":"drilling","tool":{"class":"drill-indexable","cutting_diameter":30},"engagement":{"hole_depth":50,"through":true}},{"ref":"70-bore-fine","setup":"first side","material":{"grade":"1.4301","condition":"annealed"},"operation":"boring-rotating","tool":{"class":"boring-head","cutting_diameter":30.5,"effective_edges":1},"engagement":{"start_diameter":30,"hole_depth":50,"through":true}},{"ref":"80-pocket-chain","setup":"second side","material":{"grade":"1.4301","condition":"annealed"},"operation":"chain-drilling","tool":{"class":"drill-solid-carbide","cutting_diameter":12},"engagement":{"slot_width":14,"slot_length":90,"slot_depth":40,"pitch":14,"wall_allowance":1,"floor_allowance":0.5}},{"ref":"90-pocket-rest","setup":"second side","material":{"grade":"1.4301","condition":"annealed"},"operation":"side-milling","tool":{"class":"mill-end","cutting_diameter":10,"effective_edges":4},"engagement":{"axial_depth":10,"radial_width":1.5,"length":700}},{"ref":"100-wall","setup":"second side","material":{"grade":"1.4301","condition":"annealed"},"operation":"side-milling","tool":{"class":"mill-end","cutting_diameter":10,"effective_edges":4},"engagement":{"axial_depth":10,"radial_width":0.4,"length":300},"wall":{"height":20,"thickness":3}},{"ref":"110-ream","setup":"second side","count":2,"material":{"grade":"1.4301","condition":"annealed"},"operation":"reaming","tool":{"class":"reamer","cutting_diameter":12,"effective_edges":6},"engagement":{"start_diameter":11.8,"hole_depth":25,"through":true}},{"ref":"120-groove","setup":"second side","material":{"grade":"1.4301","condition":"annealed"},"operation":"slot-milling","tool":{"class":"mill-end","cutting_diameter":6,"effective_edges":4},"engagement":{"axial_depth":3,"length":80}},{"ref":"130-chamfer","setup":"second side","material":{"grade":"1.4301","condition":"annealed"},"operation":"chamfer-milling","tool":{"class":"mill-chamfer","cutting_diameter":10,"effective_edges":4},"engagement":{"chamfer_width":0.5,"chamfer_angle":45,"length":520}}]}`,
	},
	"/v1/keys": {
		"a line of the MES": `{"name":"MES line 3","scopes":["read","compute","write"],"expires":"2027-12-31T00:00:00Z","reason":"new line"}`,
		"wall sheet":        `{"name":"wall sheet","kind":"view"}`,
	},
	"/v1/keys/{id}/rotation": {
		"over a day": `{"overlap_seconds":86400,"reason":"yearly"}`,
	},
	"/v1/keys/{id}/revocation": {
		"lost": `{"reason":"the laptop was stolen"}`,
	},
	"/v1/imports/{id}/approval": {
		"at once": `{"reason":"checked against the shop's notebook"}`,
	},
	"/v1/observations": {
		"a load": `{"units":"metric","kind":"load","lot":"H4711","edge_id":"e-3","cut":{"material":{"grade":"1.4301","condition":"annealed"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":140,"feed_per_revolution":0.25},"machine":"lathe-315"},"load":{"power":6.4,"minutes_in_cut":3,"feed_override":1}}`,
	},
	"/v1/observations/batch": {
		"two edges": `{"units":"metric","items":[{"kind":"edge","cut":{"material":{"grade":"1.4301"},"operation":"turning","tool":{"class":"turning-external"},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":160,"feed_per_revolution":0.25}},"edge":{"minutes":14.5,"reason":"worn","wear":0.31}},{"kind":"edge","cut":{"material":{"grade":"1.4301"},"operation":"turning","tool":{"class":"turning-external"},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":140,"feed_per_revolution":0.25}},"edge":{"minutes":20,"reason":"by-plan"}}]}`,
	},
	"/v1/calibrations": {
		"force of a bar": `{"kind":"force","record":"kc-x5crni18-10-own","process":"turning","material":{"grade":"1.4301","condition":"annealed"}}`,
	},
	"/v1/calibrations/{id}/approval": {
		"at once": `{"reason":"agrees with a reference cut"}`,
	},
	"/v1/diagnoses": {
		"a meter that reads high": `{"units":"metric","cut":{"material":{"grade":"1.4301","condition":"annealed"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":140,"feed_per_revolution":0.25},"machine":"lathe-315"},"load":{"power":7.5,"minutes_in_cut":9},"known":{"other_machine_ratio":1.02,"override_logged":true}}`,
	},
	"/v1/diagnoses/batch": {
		"one reading": `{"units":"metric","items":[{"ref":"op-10","cut":{"material":{"grade":"1.4301","condition":"annealed"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":140,"feed_per_revolution":0.25},"machine":"lathe-315"},"load":{"power":7.5}}]}`,
	},
	"/v1/corrections/batch": {
		"shaft over size": `{"units":"inch","items":[{"ref":"d1","feature":"external","sides_cut":2,"programmed":1.5,"measured":1.505,"register":"radius"}]}`,
	},
}

// aMachine is an invented machine to store from the page.
const aMachine = `{"name":"demo mill","units":"metric","process":"milling","spindle":{"max_speed":8000,"efficiency":0.85,"idle_power":0.4,"gears":[{"gear":"1","ratings":[{"rating":"S1","power":11,"torque":70},{"rating":"S6-40","power":15,"torque":95}]}]},"axes":{"max_feed_rate":20000,"max_feed_force":5000},"coolant":{"deliveries":["external"]},"basis":"demo","note":"invented"}`

// aRecord and aKeptCut are inventions to store from the page.
const (
	aRecord = `{"units":"metric","kind":"force","supersedes":"kc-x5crni18-10-tbm-script","lots":2,"review_by":"2027-06-30","force":{"scope":{"level":"material","key":"x5crni18-10"},"condition":"annealed","process":"turning","method":"kienzle","specific_cutting_force_1_1":2450,"chip_thickness_exponent":0.22,"valid":{"chip_thickness":{"low":0.08,"high":0.4,"unit":"mm"}},"basis":"shop","source":"common-practice","place":"load meter, lathe 3, five cuts"}}`
	aKept   = `{"units":"metric","note":"flange","cut":{"ref":"op-10","material":{"grade":"1.4301","condition":"annealed"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":140,"feed_per_revolution":0.25},"machine":"lathe-200"}}`
)

// examples puts the worked requests into the document.
func examples(doc *openapi3.T) {
	for path, list := range worked {
		media := doc.Paths.Value(path).Post.RequestBody.Value.Content["application/json"]
		media.Examples = openapi3.Examples{}
		for name, body := range list {
			media.Examples[name] = &openapi3.ExampleRef{Value: openapi3.NewExample(parsed(body))}
		}
	}
	cuts := doc.Paths.Value("/v1/estimates").Post.RequestBody.Value.Content["application/json"].Examples
	for _, e := range samples.Examples {
		cuts[e.Operation] = &openapi3.ExampleRef{Value: &openapi3.Example{Summary: e.Says, Value: parsed(string(e.Body()))}}
	}
	doc.Paths.Value("/v1/machines/{id}").Put.RequestBody.Value.Content["application/json"].Example = parsed(aMachine)
	doc.Paths.Value("/v1/records/{id}").Put.RequestBody.Value.Content["application/json"].Example = parsed(aRecord)
	doc.Paths.Value("/v1/cuts/{id}").Put.RequestBody.Value.Content["application/json"].Example = parsed(aKept)
	for path, id := range map[string]string{"/v1/records/{id}": "kc-x5crni18-10-tbm-script", "/v1/records/{id}/impact": "kc-x5crni18-10-tbm-script", "/v1/cuts/{id}": "flange-10", "/v1/jobs/{id}": "1", "/v1/jobs/{id}/result": "1", "/v1/sheets/{id}": "force", "/v1/exports/{id}": "force", "/v1/materials/{id}": "x5crni18-10", "/v1/materials/{id}/spread": "x5crni18-10", "/v1/tool-classes/{id}": "mill-end", "/v1/machines/{id}": "vmc-50", "/v1/sources/{id}": "groover"} {
		doc.Paths.Value(path).Get.Parameters.GetByInAndName("path", "id").Example = id
	}
	doc.Paths.Value("/problems/{slug}").Get.Parameters.GetByInAndName("path", "slug").Example = "units-missing"
	doc.Paths.Value("/v1/materials").Get.Parameters.GetByInAndName("query", "q").Example = "1.4301"
	for name, value := range map[string]any{"grade": "C45", "value": 300, "scale": "HV"} {
		doc.Paths.Value("/v1/hardness-conversions").Get.Parameters.GetByInAndName("query", name).Example = value
	}
}

// parsed is a body as it stands, its members in the order in which people write them.
func parsed(body string) any {
	if !json.Valid([]byte(body)) {
		panic("not JSON: " + body) // a test makes the document
	}
	return json.RawMessage(body)
}

// exampleOf writes the text of a parameter as its type has it.
func exampleOf(s *openapi3.Schema, text string) any {
	switch {
	case s.Type.Is("number"):
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			panic(err) // a test makes the document
		}
		return v
	case s.Type.Is("boolean"):
		return text == "true"
	case s.Type.Is("array"):
		return strings.Split(text, ",")
	}
	return text
}
