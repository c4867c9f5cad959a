package api

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"swarf/domain"
)

// format is a representation that an answer can take.
type format uint8

const (
	formatJSON format = iota
	formatText
	formatCSV
	formatHTML
	formatXLSX
	formatZIP
	formatLines
	formatSVG
	formatPNG
	formatMTConnect
	formatB2MML
	formatValue
	formatWords
)

// formatRow says how a format is asked for and how it is named in answers.
type formatRow struct {
	name, media, contentType string
}

var formatTable = [...]formatRow{
	formatJSON: {"json", "application/json", "application/json; charset=utf-8"},
	formatText: {"text", "text/plain", "text/plain; charset=utf-8"},
	formatCSV:  {"csv", "text/csv", "text/csv; charset=utf-8; header=present"},
	formatHTML: {"html", "text/html", "text/html; charset=utf-8"},
	formatXLSX: {"xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"},
	formatZIP:  {"zip", "application/zip", "application/zip"},
	formatSVG:  {"svg", "image/svg+xml", "image/svg+xml"},
	formatPNG:  {"png", "image/png", "image/png"},
	// Documents of open standards have types of our own: a browser that takes any XML is
	// answered as before.
	formatMTConnect: {"mtconnect", "application/vnd.swarf.mtconnect+xml", "application/vnd.swarf.mtconnect+xml; charset=utf-8"},
	formatB2MML:     {"b2mml", "application/vnd.swarf.b2mml+xml", "application/vnd.swarf.b2mml+xml; charset=utf-8"},
	formatValue:     {"value", "", "text/plain; charset=utf-8"}, // by name alone
	formatWords:     {"words", "", "text/plain; charset=utf-8"},
	formatLines:     {"ndjson", "application/x-ndjson", "application/x-ndjson; charset=utf-8"},
}

// problemType is the media type of problem documents (RFC 9457).
const problemType = "application/problem+json; charset=utf-8"

func (f format) contentType() string { return formatTable[f].contentType }

// String is the name that the format parameter takes.
func (f format) String() string { return formatTable[f].name }

// The formats of the kinds of routes; the first is the default.
var (
	recordFormats = []format{formatJSON, formatText}
	tableFormats  = []format{formatJSON, formatText, formatCSV}
	batchFormats  = []format{formatJSON, formatText, formatCSV, formatLines}
	valueFormats  = []format{formatJSON, formatText, formatCSV, formatValue}
	cutFormats    = append(slices.Clone(valueFormats), formatHTML)
	drawnFormats  = []format{formatJSON, formatText, formatCSV, formatValue, formatHTML, formatSVG, formatPNG}
	masterFormats = append(slices.Clone(drawnFormats), formatWords, formatB2MML)
	toolFormats   = append(slices.Clone(masterFormats), formatMTConnect)
	pageFormats   = []format{formatJSON, formatHTML, formatText}
)

// negotiate chooses among the formats that a route offers. The format parameter
// wins over Accept; no Accept takes the first offer. Nothing acceptable is a
// not-acceptable fault that lists the offers.
func negotiate(param, accept string, offers []format) (format, error) {
	if param != "" {
		for _, f := range offers {
			row := &formatTable[f]
			if param == row.name || row.media != "" && strings.EqualFold(param, row.media) {
				return f, nil
			}
		}
		return offers[0], notAcceptable("format", param, offers)
	}
	if accept == "" || accept == "*/*" || accept == "application/json" && offers[0] == formatJSON {
		return offers[0], nil
	}
	best, bestQ := offers[0], 0.0
	ranges := parseAccept(accept)
	for _, f := range offers {
		if q := quality(ranges, formatTable[f].media); q > bestQ {
			best, bestQ = f, q
		}
	}
	if bestQ == 0 {
		return offers[0], notAcceptable("Accept", accept, offers)
	}
	return best, nil
}

// mediaRange is one entry of an Accept header (RFC 9110, 12.5.1).
type mediaRange struct {
	media string
	q     float64
}

func parseAccept(accept string) []mediaRange {
	var ranges []mediaRange
	for entry := range strings.SplitSeq(accept, ",") {
		media, params, _ := strings.Cut(entry, ";")
		r := mediaRange{media: strings.ToLower(strings.TrimSpace(media)), q: 1}
		for param := range strings.SplitSeq(params, ";") {
			name, value, _ := strings.Cut(strings.TrimSpace(param), "=")
			if strings.EqualFold(name, "q") {
				q, err := strconv.ParseFloat(value, 64)
				if err != nil || !(q >= 0 && q <= 1) {
					q = 0
				}
				r.q = q
			}
		}
		if r.media != "" {
			ranges = append(ranges, r)
		}
	}
	return ranges
}

// quality is the weight of a media type: that of the most specific range it falls
// under, zero when under none. A problem type asked for counts as JSON.
func quality(ranges []mediaRange, media string) float64 {
	q, specific := 0.0, 0
	for _, r := range ranges {
		rank := 0
		switch {
		case r.media == media, r.media == "application/problem+json" && media == "application/json":
			rank = 3
		case strings.HasSuffix(r.media, "/*") && strings.HasPrefix(media, strings.TrimSuffix(r.media, "*")):
			rank = 2
		case r.media == "*/*":
			rank = 1
		}
		if rank > specific {
			q, specific = r.q, rank
		}
	}
	return q
}

func notAcceptable(where, asked string, offers []format) error {
	names := make([]string, len(offers))
	for i, f := range offers {
		names[i] = strings.TrimSpace(formatTable[f].media + " (format=" + formatTable[f].name + ")")
	}
	return fault(domain.Invalid, "not-acceptable", where, where+" asks for "+strconv.Quote(clip(asked))+", in which this route does not answer",
		"ask for "+strings.Join(names, ", "))
}

// problemFormat is how a problem is told, in case the request goes wrong before or without
// an agreed format, or at a route that has no pages: as a page, as lines, or as the one line
// that is asked for, to callers who read those rather than JSON.
func problemFormat(r *http.Request) format {
	if strings.Contains(r.URL.RawQuery, "format=") {
		switch param := r.URL.Query().Get("format"); param {
		case "text", "text/plain":
			return formatText
		case "html", "text/html":
			return formatHTML
		case "value":
			return formatValue
		case "words":
			return formatWords
		case "":
		default:
			return formatJSON
		}
	}
	accept := r.Header.Get("Accept")
	if !strings.Contains(accept, "text/") {
		return formatJSON
	}
	ranges := parseAccept(accept)
	best := formatJSON
	for _, f := range [...]format{formatHTML, formatText} {
		if quality(ranges, formatTable[f].media) > quality(ranges, formatTable[best].media) {
			best = f
		}
	}
	return best
}
