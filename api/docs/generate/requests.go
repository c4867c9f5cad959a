package generate

import (
	"encoding/json"
	"reflect"
	"sort"

	"github.com/getkin/kin-openapi/openapi3"

	"swarf/api/wire"
)

// flat are the computations that take their members as query parameters.
var flat = map[string]bool{"/v1/estimates": true, "/v1/recommendations": true, "/v1/spindle-checks": true, "/v1/corrections": true}

// query lists the flat members of a computation's GET.
func query(operation *openapi3.Operation, path string) {
	var shape any = wire.Cut{}
	switch path {
	case "/v1/spindle-checks":
		shape = wire.SpindleCheck{}
	case "/v1/corrections":
		shape = wire.CorrectionRequest{}
	}
	names := wire.FlatNames(reflect.TypeOf(shape))
	list := make([]string, 0, len(names))
	for name := range names {
		list = append(list, name)
	}
	sort.Strings(list)
	for _, name := range list {
		p := openapi3.NewQueryParameter(name).WithSchema(openapi3.NewStringSchema())
		p.Description = "member " + names[name]
		operation.AddParameter(p)
	}
}

// batches says what the items of batches are.
func batches(doc *openapi3.T) {
	schemas := doc.Components.Schemas
	for path, pair := range map[string][2]string{
		"/v1/estimates/batch": {"Cut", "Answer"}, "/v1/recommendations/batch": {"Cut", "Answer"}, "/v1/spindle-checks/batch": {"SpindleCheck", "SpindleResult"},
		"/v1/corrections/batch": {"CorrectionRequest", "CorrectionAnswer"},
	} {
		operation := doc.Paths.Value(path).Post
		item := openapi3.NewSchemaRef("#/components/schemas/"+pair[0], schemas[pair[0]].Value)
		body := openapi3.NewObjectSchema().WithProperty("units", openapi3.NewStringSchema().WithEnum("metric", "inch"))
		items := openapi3.NewArraySchema()
		items.Items = item
		body.WithPropertyRef("items", items.NewRef()).WithRequired([]string{"units", "items"})
		closed(body)
		operation.RequestBody.Value.Content = openapi3.NewContentWithJSONSchema(body)
		answer := *schemas["Batch"].Value
		answer.Properties = openapi3.Schemas{}
		for name, p := range schemas["Batch"].Value.Properties {
			answer.Properties[name] = p
		}
		outs := openapi3.NewArraySchema()
		outs.Items = &openapi3.SchemaRef{Value: &openapi3.Schema{AnyOf: openapi3.SchemaRefs{
			openapi3.NewSchemaRef("#/components/schemas/"+pair[1], schemas[pair[1]].Value),
			openapi3.NewSchemaRef("#/components/schemas/Problem", schemas["Problem"].Value),
		}}}
		answer.Properties["items"] = outs.NewRef()
		operation.Responses.Value("200").Value.Content["application/json"].Schema = answer.NewRef()
	}
	delete(schemas, "Batch")
}

// worked are requests to try from the page, one of each family.
var worked = map[string]map[string]string{
	"/v1/estimates": {
		"drill":           `{"units":"metric","ref":"op-30","material":{"grade":"1.4301","condition":"annealed"},"operation":"drilling","tool":{"class":"drill-indexable","cutting_diameter":30},"engagement":{"hole_depth":60,"through":true},"parameters":{"cutting_speed":120,"feed_per_revolution":0.1},"machine":"vmc-50","coolant":{"delivery":"external"}}`,
		"face mill, in":   `{"units":"inch","material":{"grade":"304","condition":"annealed"},"operation":"face-milling","tool":{"class":"mill-face","cutting_diameter":3,"effective_edges":5},"engagement":{"axial_depth":0.08,"radial_width":2.2},"parameters":{"cutting_speed":450,"feed_per_tooth":0.006},"machine":"vmc-50"}`,
		"turned diameter": `{"units":"metric","material":{"grade":"1.4301","condition":"annealed"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":140,"feed_per_revolution":0.25},"machine":"lathe-200"}`,
	},
	"/v1/recommendations": {
		"end mill": `{"units":"metric","material":{"grade":"1.4301","condition":"annealed"},"operation":"side-milling","tool":{"class":"mill-end","cutting_diameter":12,"effective_edges":4},"engagement":{"axial_depth":12,"radial_width":3},"machine":"vmc-40"}`,
	},
	"/v1/spindle-checks": {
		"one cut, three machines": `{"units":"metric","cut":{"material":{"grade":"1.7225"},"operation":"face-milling","tool":{"class":"mill-face","cutting_diameter":63,"effective_edges":5},"engagement":{"axial_depth":3,"radial_width":45},"parameters":{"cutting_speed":160,"feed_per_tooth":0.2}},"machines":["vmc-40","vmc-50","hmc-63"]}`,
	},
}

// examples puts the worked requests into the document.
func examples(doc *openapi3.T) {
	for path, list := range worked {
		media := doc.Paths.Value(path).Post.RequestBody.Value.Content["application/json"]
		media.Examples = openapi3.Examples{}
		for name, body := range list {
			var value any
			if err := json.Unmarshal([]byte(body), &value); err != nil {
				panic(name + ": " + err.Error()) // a test makes the document
			}
			media.Examples[name] = &openapi3.ExampleRef{Value: openapi3.NewExample(value)}
		}
	}
}
