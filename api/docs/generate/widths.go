package generate

import "github.com/getkin/kin-openapi/openapi3"

// widen says how wide every number is: without that, client generators take single
// precision, which is less than the digits of an answer.
func widen(doc *openapi3.T) {
	for _, ref := range doc.Components.Schemas {
		wide(ref)
	}
	for _, item := range doc.Paths.Map() {
		for _, operation := range item.Operations() {
			for _, p := range operation.Parameters {
				wide(p.Value.Schema)
			}
		}
	}
}

// wide goes through a schema, but not on to those it refers to.
func wide(ref *openapi3.SchemaRef) {
	if ref == nil || ref.Ref != "" || ref.Value == nil {
		return
	}
	s := ref.Value
	switch {
	case s.Type.Is("number"):
		s.Format = "double"
	case s.Type.Is("integer"):
		s.Format = "int64"
	}
	wide(s.Items)
	for _, p := range s.Properties {
		wide(p)
	}
	for _, p := range s.OneOf {
		wide(p)
	}
}
