package generate

import "github.com/getkin/kin-openapi/openapi3"

// batched are the schemas of the items of each batch, in and out.
var batched = map[string][2]string{
	"/v1/estimates/batch": {"Cut", "Answer"}, "/v1/recommendations/batch": {"Cut", "Answer"},
	"/v1/spindle-checks/batch": {"SpindleCheck", "SpindleResult"}, "/v1/corrections/batch": {"CorrectionRequest", "CorrectionAnswer"},
	"/v1/diagnoses/batch": {"DiagnosisRequest", "Diagnosis"},
}

// mostItems is how many items a batch may have.
const mostItems = 10_000

// batches says what the items of batches are.
func batches(doc *openapi3.T) {
	schemas := doc.Components.Schemas
	whole := schemas["Batch"].Value
	delete(schemas, "Batch")
	for path, pair := range batched {
		operation := doc.Paths.Value(path).Post
		schemas[pair[0]+"Batch"] = batchOf(refer(schemas, pair[0])).NewRef()
		operation.RequestBody.Value.Content = openapi3.NewContentWithJSONSchemaRef(refer(schemas, pair[0]+"Batch"))
		operation.RequestBody.Value.Content[csvMedia] = text("a line of flat names, then a line for each item (RFC 4180), in the units of the query; empty cells are left out")
		operation.RequestBody.Value.Content[lineMedia] = text("one item a line, as many as may come, each in units of its own or of the query; answered in lines, in order, while they come")
		units := openapi3.NewQueryParameter("units").WithDescription("of the items of a table, and of lines that state none").WithSchema(openapi3.NewStringSchema().WithEnum("metric", "inch"))
		operation.Parameters = append(operation.Parameters, &openapi3.ParameterRef{Value: units})
		operation.Responses.Value("200").Value.Content[lineMedia] = text("one answer or problem a line, in the order of the items")

		answer := *whole
		answer.Properties = openapi3.Schemas{}
		for name, p := range whole.Properties {
			answer.Properties[name] = p
		}
		items := openapi3.NewArraySchema()
		items.Items = &openapi3.SchemaRef{Value: &openapi3.Schema{OneOf: openapi3.SchemaRefs{refer(schemas, pair[1]), refer(schemas, "Problem")}}}
		answer.Properties["items"] = items.NewRef()
		schemas[pair[1]+"Batch"] = answer.NewRef()
		operation.Responses.Value("200").Value.Content["application/json"].Schema = refer(schemas, pair[1]+"Batch")
	}
	schemas["ObservationBatch"] = batchOf(refer(schemas, "Observation")).NewRef()
	observed := doc.Paths.Value("/v1/observations/batch").Post
	observed.RequestBody.Value.Content = openapi3.NewContentWithJSONSchemaRef(refer(schemas, "ObservationBatch"))
	observed.RequestBody.Value.Content["text/csv"] = text("a line of flat names, then a line for each observation (RFC 4180); empty cells are left out")
	either := openapi3.NewArraySchema()
	either.Items = &openapi3.SchemaRef{Value: &openapi3.Schema{OneOf: openapi3.SchemaRefs{refer(schemas, "Observed"), refer(schemas, "Problem")}}}
	schemas["ObservedBatch"].Value.Properties["items"] = either.NewRef()
}

// batchOf is the body of a batch.
func batchOf(item *openapi3.SchemaRef) *openapi3.Schema {
	items := openapi3.NewArraySchema().WithMaxItems(mostItems)
	items.Items = item
	body := openapi3.NewObjectSchema().WithProperty("units", openapi3.NewStringSchema().WithEnum("metric", "inch"))
	body.WithPropertyRef("items", items.NewRef()).WithRequired([]string{"units", "items"})
	closed(body)
	return body
}
