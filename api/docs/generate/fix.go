package generate

import (
	"bytes"
	"net/http"
	"regexp"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
)

var packaged = regexp.MustCompile(`(#/components/schemas/|")(wire|api|unit)\.([A-Za-z]+)`)

// rename takes the package out of schema names: client generators make types of them.
func rename(text []byte) []byte {
	return packaged.ReplaceAllFunc(text, func(m []byte) []byte {
		parts := packaged.FindSubmatch(m)
		name := append(bytes.ToUpper(parts[3][:1:1]), parts[3][1:]...)
		return append(append([]byte{}, parts[1]...), name...)
	})
}

// tags are the groups of routes, in the order of use.
var tags = openapi3.Tags{
	{Name: "computations", Description: "what a cut loads, what to run, which machine can, what to correct"},
	{Name: "jobs", Description: "batches that are computed later: how far they have come, and their answers"},
	{Name: "reference data", Description: "grades, tool classes and where their numbers come from"},
	{Name: "machines", Description: "what the shop has, and what was changed"},
	{Name: "records", Description: "what people and calibrations wrote: drafts, approvals, withdrawals, and the cuts kept to show what a step would do"},
	{Name: "tables", Description: "the catalogue as tables: templates, exports and imports for spreadsheets and mirrors"},
	{Name: "evidence", Description: "what the shop measured, and what it says of a metal"},
	{Name: "keys", Description: "who may ask: keys are made, get new secrets, and end"},
	{Name: "service", Description: "for those who run and connect it"},
}

// fix repairs what the tools before could not say.
func fix(doc *openapi3.T) {
	doc.OpenAPI = "3.0.3"
	doc.Info.Contact = nil
	doc.Servers = openapi3.Servers{{URL: "/"}}
	doc.Tags = tags
	shape(doc.Components.Schemas)
	batches(doc)
	for path, item := range doc.Paths.Map() {
		for method, operation := range item.Operations() {
			operation.OperationID = operationID(method, path)
			answers(doc, method, path, operation)
			if form, ok := forms[path]; ok && method == http.MethodGet {
				flatten(operation, form)
			}
		}
	}
	sheets(doc)
	pictures(doc)
	standards(doc)
	conventions(doc)
	guard(doc)
	widen(doc)
	examples(doc)
}

// refer points to a schema of the document.
func refer(schemas openapi3.Schemas, name string) *openapi3.SchemaRef {
	return openapi3.NewSchemaRef("#/components/schemas/"+name, schemas[name].Value)
}

// operationID makes a name for client generators: getV1MaterialsId.
func operationID(method, path string) string {
	id := strings.ToLower(method)
	for _, part := range strings.FieldsFunc(path, func(r rune) bool { return strings.ContainsRune("/{}-.", r) }) {
		id += strings.ToUpper(part[:1]) + part[1:]
	}
	return id
}
