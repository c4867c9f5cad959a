package generate

import (
	"net/http"
	"strconv"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
)

// tables are the answers that CSV can hold too.
func tables(path string) bool {
	return strings.HasPrefix(path, "/v1/") && !strings.HasSuffix(path, "{id}") && path != "/v1/plans"
}

// answers gives errors their media type, successes their other formats, and every
// answer its headers.
func answers(doc *openapi3.T, method, path string, operation *openapi3.Operation) {
	operation.Responses.Delete("default")
	for code, ref := range operation.Responses.Map() {
		status, _ := strconv.Atoi(code)
		response := ref.Value
		switch {
		case status >= 400:
			response.Content = problem(doc)
			continue
		case status == http.StatusNoContent || status == http.StatusNotModified:
			response.Content = nil
		default:
			response.Content = formats(path, response.Content)
		}
		if status == http.StatusAccepted {
			response.Content = openapi3.NewContentWithJSONSchemaRef(refer(doc.Components.Schemas, "Job"))
		}
		response.Headers = headers(method, path, status)
	}
	offered(operation)
	other := openapi3.NewResponse().WithDescription("any other problem, such as a fault of ours (500)")
	other.Content = problem(doc)
	operation.Responses.Set("default", &openapi3.ResponseRef{Value: other})
}

// problem is a problem document, or its lines of text for those who read text.
func problem(doc *openapi3.T) openapi3.Content {
	content := openapi3.NewContentWithSchemaRef(refer(doc.Components.Schemas, "Problem"), []string{"application/problem+json"})
	content["text/plain"] = text("key=value lines, for a request that asks for text")
	content["text/html"] = text("a page, for a request that asks for one")
	return content
}

// formats adds what an answer can be besides JSON.
func formats(path string, content openapi3.Content) openapi3.Content {
	switch {
	case strings.HasPrefix(path, "/docs"):
		return openapi3.Content{"text/html": text("a page")}
	case path == "/openapi.json" || content == nil:
		return content
	case path == "/.well-known/api-catalog":
		return openapi3.Content{"application/linkset+json": content["application/json"]}
	case strings.HasPrefix(path, "/problems"):
		content["text/html"] = text("a page")
	case tables(path):
		content["text/csv"] = text("one line of headings with their units, then a line for each row (RFC 4180)")
	}
	if shown[path] {
		content["text/html"] = text("a page to read and to print: verdict, numbers, limits as bars, findings, picture, sources and the derivation, which explain=false leaves out")
	}
	content["text/plain"] = text("key=value lines in ASCII, members in the order of x-text-order, those inside joined by dots, places of lists in brackets; numbers with a decimal point and no exponent, the digits of JSON. Absent members have no line. The last two lines are status=ok, warn, refused or error, and lines= the count of all lines. Of format=value the bare value, of format=words one block, of a problem then one line that begins with #ERR")
	return content
}

// shown are the computations that answer with a page too.
var shown = map[string]bool{"/v1/estimates": true, "/v1/recommendations": true, "/v1/spindle-checks": true, "/v1/diagnoses": true, "/v1/corrections": true, "/v1/plans": true}

func text(description string) *openapi3.MediaType {
	s := openapi3.NewStringSchema()
	s.Description = description
	return openapi3.NewMediaType().WithSchema(s)
}

// formatNames are the words of the parameter format, in the order of the page.
var formatNames = []struct{ media, word string }{{"application/json", "json"}, {"text/html", "html"}, {"text/plain", "text"}, {"text/csv", "csv"},
	{lineMedia, "ndjson"}, {bookMedia, "xlsx"}, {zipMedia, "zip"}, {"image/svg+xml", "svg"}, {"image/png", "png"},
	{assetMedia, "mtconnect"}, {masterMedia, "b2mml"}}

// offered lets the parameter format name what the route can answer in, and no more.
func offered(operation *openapi3.Operation) {
	p := operation.Parameters.GetByInAndName("query", "format")
	if p == nil {
		return
	}
	p.Description = "for callers that cannot set Accept"
	p.Schema.Value.Enum = nil
	success := operation.Responses.Value("200")
	if success == nil {
		success = operation.Responses.Value("201")
	}
	for _, f := range formatNames {
		if success.Value.Content[f.media] != nil {
			p.Schema.Value.Enum = append(p.Schema.Value.Enum, f.word)
		}
	}
}

// headers are what callers may read beside the body of a success.
func headers(method, path string, status int) openapi3.Headers {
	list := openapi3.Headers{}
	add := func(name, description string) {
		h := openapi3.Parameter{Description: description, Schema: openapi3.NewStringSchema().NewRef()}
		list[name] = &openapi3.HeaderRef{Value: &openapi3.Header{Parameter: h}}
	}
	add("X-Request-Id", "id of the request, the caller's own where it sent a plain one")
	if strings.HasPrefix(path, "/v1/") && !strings.HasPrefix(path, "/v1/jobs") && status != http.StatusAccepted {
		add("Data-Revision", "revision of the data that made the answer")
	}
	read := strings.HasPrefix(path, "/v1/") && method == http.MethodGet && forms[path].shape == nil
	if read || strings.HasPrefix(path, "/docs") || path == "/openapi.json" || method == http.MethodPut {
		add("ETag", "strong tag of this representation")
	}
	if read && status == http.StatusOK && tables(path) {
		add("Link", "rel=next: where the list goes on (RFC 8288); absent on the last page")
	}
	if status == http.StatusCreated || status == http.StatusAccepted {
		add("Location", "path of what was created")
	}
	if status == http.StatusAccepted {
		add("Preference-Applied", "respond-async")
	}
	return list
}
