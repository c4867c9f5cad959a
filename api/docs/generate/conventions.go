package generate

import (
	"maps"
	"net/http"
	"slices"
	"strconv"

	"github.com/getkin/kin-openapi/openapi3"

	"swarf/api"
)

// parameterTexts are the query parameters that follow from the route table, which no
// comment names.
var parameterTexts = map[string]struct {
	text  string
	words []any // nil: text
}{
	"fields":        {"only these members, comma-separated dotted paths, of the items where it is a list; the answer then lacks the others, required ones too", nil},
	"field":         {"with format=value, the one value that is wanted: a path as in text/plain (machine.limits[0].demand, machine.limits[limit=torque].demand), or its end where that is one member's alone (spindle_speed)", nil},
	"handling":      {"strict: holds and refusals make a problem of the answer, with the findings as faults; for callers that cannot set Prefer", []any{"strict", "lenient"}},
	"decimal":       {"with CSV, the decimal sign; with a comma, semicolons separate", []any{"point", "comma"}},
	"delimiter":     {"with CSV, what separates cells", []any{"comma", "semicolon", "tab"}},
	"bom":           {"with CSV, a byte order mark before it, by which spreadsheets know UTF-8", []any{true, false}},
	"feed_mode":     {"with format=words, the feed as a rate (G94) or per revolution (G95); lathes and threads have it per revolution when left out", []any{"per-minute", "per-revolution"}},
	"speed_step":    {"with format=words, the least step of the spindle speed; the control's speed_resolution, else 1, when left out", nil},
	"feed_step":     {"with format=words, the least step of the feed word in its units; the control's feed_resolution, else 1 mm/min, 0.1 in/min, 0.001 mm or 0.0001 in a revolution, when left out", nil},
	"validate_only": {"check the write in full and keep nothing: the answer is that of the write, with 200 for 201, no tag, and Validate-Only: true", []any{true, false}},
}

// conventions says what holds by the route table: parameters, headers, QUERY and what goes.
func conventions(doc *openapi3.T) {
	for _, r := range api.Routes() {
		o := doc.Paths.Value(r.Path).GetOperation(r.Method)
		for _, name := range r.Query {
			if text, ours := parameterTexts[name]; ours && o.Parameters.GetByInAndName("query", name) == nil {
				o.Parameters = append(o.Parameters, &openapi3.ParameterRef{Value: parameter(name, text.text, text.words)})
			}
		}
		if p := o.Parameters.GetByInAndName("query", "format"); p != nil {
			for _, word := range []string{"value", "words"} {
				if slices.Contains(r.Offers, word) {
					p.Schema.Value.Enum = append(p.Schema.Value.Enum, word)
				}
			}
		}
		if slices.Contains(r.Query, "handling") {
			preferring(o)
		}
		if r.Queried {
			o.Description += " The same body can be sent by the method QUERY (RFC 10008), which OpenAPI 3.0 cannot list: it is safe and may be repeated; Accept-Query says in what, and Content-Location names the URL that gives the same answer by GET, where there is one."
		}
		if names := shortNames(r.Path); names != "" && r.Method == http.MethodGet {
			o.Description += " Short names for long requests: " + names + "."
		}
		if made := o.Responses.Value("201"); r.Writes && made != nil && o.Responses.Value("200") == nil {
			checked := *made.Value
			text := "checked, and not kept"
			checked.Description, checked.Headers = &text, maps.Clone(checked.Headers)
			delete(checked.Headers, "Location")
			o.Responses.Set("200", &openapi3.ResponseRef{Value: &checked})
		}
		if forms[r.Path].shape != nil && r.Method == http.MethodGet {
			long := openapi3.NewResponse().WithDescription("the URL is too long: over 2,047 characters with scheme and host")
			long.Content = problem(doc)
			o.Responses.Set("414", &openapi3.ResponseRef{Value: long})
		}
		for code, response := range o.Responses.Map() {
			status, _ := strconv.Atoi(code)
			answered(r, status, response.Value)
		}
		if slices.Contains(r.Query, "bom") && o.Responses.Value("422") == nil {
			unfit := openapi3.NewResponse().WithDescription("parameters that do not go together, such as bom without CSV")
			unfit.Content = problem(doc)
			o.Responses.Set("422", &openapi3.ResponseRef{Value: unfit})
		}
		retire(o, r)
	}
}

// preferring says what a caller may prefer, beside what else there is to prefer.
func preferring(o *openapi3.Operation) {
	const strict = "handling=strict (RFC 7240): holds and refusals make a problem of the answer, with the findings as faults"
	if p := o.Parameters.GetByInAndName("header", "Prefer"); p != nil {
		p.Description += "; " + strict
		return
	}
	o.Parameters = append(o.Parameters, &openapi3.ParameterRef{Value: openapi3.NewHeaderParameter("Prefer").WithDescription(strict).WithSchema(openapi3.NewStringSchema())})
}

func parameter(name, text string, words []any) *openapi3.Parameter {
	s := openapi3.NewStringSchema()
	switch {
	case len(words) > 0 && words[0] == true:
		s = openapi3.NewBoolSchema()
	case name == "speed_step" || name == "feed_step":
		s = openapi3.NewFloat64Schema()
	default:
		s.Enum = words
	}
	return openapi3.NewQueryParameter(name).WithDescription(text).WithSchema(s)
}

// answered adds what an answer of the route has in its headers. Problems describe
// themselves.
func answered(r api.RouteInfo, status int, response *openapi3.Response) {
	add := func(name, text string) {
		if response.Headers == nil {
			response.Headers = openapi3.Headers{}
		}
		h := openapi3.Parameter{Description: text, Schema: openapi3.NewStringSchema().NewRef()}
		response.Headers[name] = &openapi3.HeaderRef{Value: &openapi3.Header{Parameter: h}}
	}
	switch {
	case status == 0, status >= http.StatusBadRequest:
		return
	case r.Queried:
		add("Accept-Query", "the media types in which a QUERY may come (RFC 10008)")
	}
	link := "rel=service-desc: the description of the service (RFC 8631)"
	if h := response.Headers["Link"]; h != nil {
		link += "; rel=next, prev and first: the pages around this one (RFC 8288)"
	}
	add("Link", link)
	if slices.Contains(r.Query, "handling") {
		add("Preference-Applied", "handling=strict, where the caller asked for it by Prefer (RFC 7240)")
	}
	if r.Writes {
		add("Validate-Only", "true: the write was checked and not kept")
	}
}

// retire marks an operation that goes.
func retire(o *openapi3.Operation, r api.RouteInfo) {
	if r.Retired == nil {
		return
	}
	o.Deprecated = true
	for _, response := range o.Responses.Map() {
		if response.Value.Headers == nil {
			response.Value.Headers = openapi3.Headers{}
		}
		for name, text := range map[string]string{"Deprecation": r.Retired.Deprecation, "Sunset": r.Retired.Sunset} {
			if text != "" {
				h := openapi3.Parameter{Description: text, Schema: openapi3.NewStringSchema().NewRef()}
				response.Value.Headers[name] = &openapi3.HeaderRef{Value: &openapi3.Header{Parameter: h}}
			}
		}
	}
}
