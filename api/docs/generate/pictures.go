package generate

import "github.com/getkin/kin-openapi/openapi3"

// pictures says which answers can be drawn.
func pictures(doc *openapi3.T) {
	svg, png := text("a picture with its font"), file("a picture 800 pixels wide")
	for _, o := range []*openapi3.Operation{
		doc.Paths.Value("/v1/estimates").Post, doc.Paths.Value("/v1/estimates").Get, doc.Paths.Value("/v1/recommendations").Post, doc.Paths.Value("/v1/recommendations").Get,
		doc.Paths.Value("/v1/spindle-checks").Post, doc.Paths.Value("/v1/spindle-checks").Get, doc.Paths.Value("/v1/machines/{id}").Get, doc.Paths.Value("/v1/plans").Post,
	} {
		content := o.Responses.Value("200").Value.Content
		content["image/svg+xml"], content["image/png"] = svg, png
		offered(o)
	}
	for _, path := range []string{"/v1/estimates", "/v1/recommendations", "/v1/spindle-checks"} {
		for _, o := range []*openapi3.Operation{doc.Paths.Value(path).Post, doc.Paths.Value(path).Get} {
			which := openapi3.NewQueryParameter("picture").WithDescription("what is drawn, with format=svg, png or html: the spindle's curves with the cut, one turn of a mill, where speed and feed can be, how far limits are used; the first that there is when left out; of several pairs of cut and machine the limit that binds each").
				WithSchema(openapi3.NewStringSchema().WithEnum("spindle", "revolution", "region", "limits"))
			o.Parameters = append(o.Parameters, &openapi3.ParameterRef{Value: which})
		}
	}
}
