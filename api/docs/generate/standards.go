package generate

import "github.com/getkin/kin-openapi/openapi3"

// standards says where answers speak the vocabularies of open standards.
func standards(doc *openapi3.T) {
	codes := openapi3.NewQueryParameter("codes").WithDescription("show the tool that was computed with, each property by its readable name and its symbol of ISO 13399").
		WithSchema(openapi3.NewStringSchema().WithEnum("iso13399"))
	for _, path := range []string{"/v1/estimates", "/v1/recommendations"} {
		for _, o := range []*openapi3.Operation{doc.Paths.Value(path).Post, doc.Paths.Value(path).Get, doc.Paths.Value(path + "/batch").Post} {
			o.Parameters = append(o.Parameters, &openapi3.ParameterRef{Value: codes})
		}
	}
}
