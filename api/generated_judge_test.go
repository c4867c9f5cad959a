package api_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"net/http"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
)

// notFinite is a number that is none, as a value of its own: texts may quote what was sent.
var notFinite = regexp.MustCompile(`^[+-]?(?i:nan|inf|infinity)$`)

// notDrawn finds one in a picture.
var notDrawn = regexp.MustCompile(`\b(NaN|[Ii]nf|Infinity)\b`)

// infinite finds a number that is none in an answer of text.
func infinite(kind string, body []byte) string {
	switch kind {
	case "image/svg+xml":
		return string(notDrawn.Find(body))
	case "text/csv":
		for _, mark := range []rune{',', ';', '\t'} {
			table := csv.NewReader(bytes.NewReader(body))
			table.Comma, table.FieldsPerRecord, table.LazyQuotes = mark, -1, true
			rows, _ := table.ReadAll()
			for _, row := range rows {
				if at := slices.IndexFunc(row, notFinite.MatchString); at >= 0 {
					return row[at]
				}
			}
		}
	case "text/plain":
		for line := range strings.Lines(string(body)) {
			if _, value, _ := strings.Cut(strings.TrimSpace(line), "="); notFinite.MatchString(value) {
				return strings.TrimSpace(line)
			}
		}
	}
	return ""
}

// itemRefused finds an item of a batch that was refused; a batch that is computed later (202)
// refuses it then.
var itemRefused = regexp.MustCompile(`"status":4\d\d|(?m)^items\[\d+\]\.status=4\d\d|/problems/`)

// judge says what is wrong with an answer; empty when nothing is.
func (r *generated) judge(got reply, embedded bool) string {
	kind, _, _ := strings.Cut(got.header.Get("Content-Type"), ";")
	response := r.operation.operation.Responses.Value(strconv.Itoa(got.status))
	if got.status >= 500 {
		if got.status == http.StatusServiceUnavailable && embedded && response != nil && (r.method == http.MethodHead || strings.Contains(string(got.body), "storage-not-configured")) {
			return ""
		}
		return "a fault of ours"
	}
	if response == nil {
		// Statuses that belong to no operation: of the router and of other methods.
		if got.status == http.StatusNotFound || got.status == http.StatusMethodNotAllowed {
			return ""
		}
		return "the status is not in the document"
	}
	if r.method == http.MethodHead {
		if len(got.body) > 0 {
			return "an answer to HEAD has a body"
		}
		return ""
	}
	if why := offSchema(response.Value, kind, got.body); why != "" {
		return why
	}
	if text := infinite(kind, got.body); got.status < 300 && text != "" {
		return "a number that is none: " + text
	}
	switch {
	case r.refused != "" && got.status < 400 && !(r.item && (got.status == http.StatusAccepted || itemRefused.Match(got.body))):
		return "taken although " + r.refused
	case r.answered && got.status >= 400 && (embedded || !strings.Contains(r.target, "machine")): // which may be gone
		return "not answered"
	}
	return ""
}

// offSchema holds a body against what the document says of it.
func offSchema(response *openapi3.Response, kind string, body []byte) string {
	if len(response.Content) == 0 {
		if len(body) > 0 {
			return "a body where there is none in the document"
		}
		return ""
	}
	media := response.Content[kind]
	switch {
	case media == nil:
		return "the media type " + kind + " is not in the document"
	case kind == lineType:
		for line := range strings.Lines(string(body)) {
			if !json.Valid([]byte(line)) {
				return fmt.Sprintf("a line is no JSON: %.200q", line)
			}
		}
	case strings.HasSuffix(kind, "json"):
		var value any
		if err := json.Unmarshal(body, &value); err != nil {
			return "the answer is no JSON: " + err.Error()
		}
		if media.Schema == nil {
			return ""
		}
		if err := media.Schema.Value.VisitJSON(value); err != nil {
			return fmt.Sprintf("off the schema: %.600v", err)
		}
	}
	return ""
}
