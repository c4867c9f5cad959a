package generate

import "github.com/getkin/kin-openapi/openapi3"

// Media types of tables.
const (
	csvMedia  = "text/csv"
	lineMedia = "application/x-ndjson"
	bookMedia = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
	zipMedia  = "application/zip"
)

// file is a body that is no JSON.
func file(description string) *openapi3.MediaType {
	s := openapi3.NewStringSchema().WithFormat("binary")
	s.Description = description
	return openapi3.NewMediaType().WithSchema(s)
}

// sheets says what the tables of the catalogue are on the wire: answers that are files,
// and the bodies of an import.
func sheets(doc *openapi3.T) {
	table, book, lines := text("one line of headings with their units, then a line for each row (RFC 4180)"), file("a workbook, a sheet for each table"), text("one JSON object a line, each with the name of its table in sheet")
	content := func(path, code string) *openapi3.Response {
		return doc.Paths.Value(path).Get.Responses.Value(code).Value
	}
	content("/v1/sheets", "200").Content[bookMedia] = book
	content("/v1/sheets/{id}", "200").Content[csvMedia] = table
	content("/v1/exports", "200").Content = openapi3.Content{lineMedia: lines, bookMedia: book, zipMedia: file("a CSV file for each table")}
	content("/v1/exports/{id}", "200").Content = openapi3.Content{csvMedia: table, lineMedia: lines}
	content("/v1/jobs/{id}/result", "200").Content = openapi3.Content{lineMedia: text("one answer or problem a line, in the order of the items")}
	for _, name := range []string{"ETag", "Link"} {
		delete(content("/v1/jobs/{id}/result", "200").Headers, name)
	}
	imports := doc.Paths.Value("/v1/imports").Post
	imports.RequestBody.Value.Content = openapi3.Content{csvMedia: table, lineMedia: lines, bookMedia: book}
	imports.Responses.Value("200").Value.Content[lineMedia] = text("progress, a line at a time, and the report last")
	imports.Responses.Value("201").Value.Content[lineMedia] = text("progress, a line at a time, and the report last")
	for _, path := range []string{"/v1/sheets", "/v1/sheets/{id}", "/v1/exports", "/v1/exports/{id}"} {
		delete(content(path, "200").Headers, "Link")
		offered(doc.Paths.Value(path).Get)
	}
	offered(imports)
	delete(imports.Responses.Value("201").Value.Headers, "Location")
	for _, path := range []string{"/v1/sheets", "/v1/sheets/{id}"} {
		delete(content(path, "200").Headers, "Data-Revision")
		delete(content(path, "304").Headers, "Data-Revision")
	}
}
