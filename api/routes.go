package api

import (
	"net/http"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"
)

// kind sorts the routes by what they do.
type kind uint8

const (
	reading       kind = iota // of reference and shop data, with a tag
	writing                   // of shop data
	approving                 // of what others wrote: it comes into force, or ends
	administering             // of keys
	computing                 // of cuts
	batching                  // many computations in one request, and those that are done later
	operating                 // of the service itself
	documenting               // pages for people
)

// route is one row of the route table. Registration, HEAD, the Allow header, the
// query parameters and the formats all follow from it.
type route struct {
	method string
	path   string // with {name} for values
	handle func(*exchange) error
	kind   kind
	query  []string // parameters besides format
	offers []format // the first is the default; none: the handler decides
}

// Parameters that several routes share.
var (
	recordParameters  = []string{"units", "as_of", "valid_at"}
	listParameters    = []string{"limit", "cursor", "units", "as_of", "valid_at"}
	computeParameters = []string{"explain", "as_of", "valid_at", "window", "format", "fields"}
	cutParameters     = append([]string{"codes"}, computeParameters...)
	drawParameters    = append([]string{"picture"}, cutParameters...)
)

// beside are all parameters that may stand beside the members of a computation by GET.
var beside = slices.Concat(drawParameters, csvParameters, wordParameters, []string{"field", "handling"})

// routeTable is every route of the service but the extra pages.
func routeTable() []route {
	return slices.Concat(
		[]route{
			{http.MethodGet, "/v1/materials", listMaterials, reading, append([]string{"q", "group"}, listParameters...), tableFormats},
			{http.MethodGet, "/v1/materials/{id}", getMaterial, reading, recordParameters, recordFormats},
			{http.MethodGet, "/v1/materials/{id}/spread", getSpread, reading, recordParameters, tableFormats},
			{http.MethodGet, "/v1/tool-classes", listToolClasses, reading, listParameters, tableFormats},
			{http.MethodGet, "/v1/tool-classes/{id}", getToolClass, reading, recordParameters, recordFormats},
			{http.MethodGet, "/v1/machines", listMachines, reading, listParameters, tableFormats},
			{http.MethodGet, "/v1/machines/{id}", getMachine, reading, recordParameters, []format{formatJSON, formatText, formatSVG, formatPNG}},
			{http.MethodPut, "/v1/machines/{id}", putMachine, writing, []string{"reason"}, recordFormats},
			{http.MethodDelete, "/v1/machines/{id}", deleteMachine, writing, []string{"reason"}, nil},
			{http.MethodGet, "/v1/sources", listSources, reading, listParameters, tableFormats},
			{http.MethodGet, "/v1/sources/{id}", getSource, reading, recordParameters, recordFormats},
			{http.MethodGet, "/v1/hardness-conversions", convertHardness, reading, append([]string{"grade", "value", "scale", "tensile_strength"}, recordParameters...), valueFormats},
			{http.MethodGet, "/v1/units", listUnits, reading, listParameters, tableFormats},
			{http.MethodGet, "/v1/changes", listChanges, reading, []string{"after", "limit", "cursor"}, tableFormats},
		},
		recordRoutes(),
		sheetRoutes(),
		evidenceRoutes(),
		computationRoutes(),
		planRoutes(),
		jobRoutes(),
		standardRoutes(),
		keyRoutes(),
		[]route{
			{http.MethodGet, "/healthz", getHealth, operating, nil, recordFormats},
			{http.MethodGet, "/readyz", getReadiness, operating, nil, recordFormats},
			{http.MethodGet, "/version", getVersion, operating, nil, recordFormats},
			{http.MethodGet, "/.well-known/api-catalog", getCatalogue, documenting, nil, nil},
			{http.MethodGet, "/problems", listProblems, documenting, nil, pageFormats},
			{http.MethodGet, "/problems/{slug}", getProblem, documenting, nil, pageFormats},
		},
	)
}

// computationRows are the rows of one computation: by POST, by GET with query
// parameters, and in batches.
func computationRows(path string, one, many func(*exchange) error) []route {
	offers, query, each := cutFormats, computeParameters, computeParameters
	switch path {
	case "/v1/spindle-checks":
		offers, query = drawnFormats, append([]string{"picture"}, computeParameters...)
	case "/v1/estimates":
		offers, query, each = masterFormats, drawParameters, cutParameters
	case "/v1/recommendations":
		offers, query, each = toolFormats, drawParameters, cutParameters
	}
	return []route{
		{http.MethodPost, path, one, computing, query, offers}, // QUERY too
		{http.MethodGet, path, one, computing, query, offers},
		{http.MethodPost, path + "/batch", many, batching, append([]string{"units"}, each...), batchFormats},
	}
}

// methodQuery is that of RFC 10008: a safe request with a body, which may be repeated.
const methodQuery = "QUERY"

// ofCuts reports a computation that may be explained: it takes a JSON body, alone or many
// at once, and finds what holds a cut.
func (r *route) ofCuts() bool {
	return (r.kind == computing || r.kind == batching) && slices.Contains(r.query, "explain")
}

// methods are the methods the row answers: HEAD wherever GET works, and QUERY wherever a
// POST only computes.
func (r *route) methods() []string {
	switch {
	case r.method == http.MethodGet:
		return []string{http.MethodGet, http.MethodHead}
	case r.ofCuts():
		return []string{r.method, methodQuery}
	}
	return []string{r.method}
}

// flat reports a computation whose members stand in the query.
func (r *route) flat() bool { return r.kind == computing && r.method == http.MethodGet }

// changes reports a route that writes.
func (r *route) changes() bool {
	switch r.kind {
	case writing, approving, administering:
		return r.method != http.MethodGet
	}
	return r.kind == batching && r.method == http.MethodDelete // of a job
}

// slow reports a write that may take as long as an import.
func (r *route) slow() bool {
	return strings.HasPrefix(r.path, "/v1/imports") || strings.HasPrefix(r.path, "/v1/calibrations") || strings.HasSuffix(r.path, "/batch")
}

// known are the query parameters the row takes: those it names, and those that follow from
// what it does and what it answers in.
func (r *route) known() []string {
	list := slices.Clone(r.query)
	add := func(when bool, names ...string) {
		for _, name := range names {
			if when && !slices.Contains(list, name) {
				list = append(list, name)
			}
		}
	}
	in := func(f format) bool { return slices.Contains(r.offers, f) }
	add(len(r.offers) > 1, "format")
	add(in(formatCSV), csvParameters...)
	add(in(formatValue), "field")
	add(in(formatWords), wordParameters...)
	add(r.ofCuts(), "handling")
	add(r.kind == reading && in(formatJSON), "fields")
	add(r.changes(), "validate_only")
	return list
}

// RouteInfo tells documentation and its tests what the table holds.
type RouteInfo struct {
	Method  string
	Path    string      // with {name} for values
	Query   []string    // parameters; of a computation by GET those beside its members
	Offers  []string    // names of the formats, the first the default
	Scope   string      // that a key needs; empty: open to everybody
	Writes  bool        // something is stored, or removed: it may carry an Idempotency-Key
	Queried bool        // QUERY works beside POST
	Retired *Retirement // nil for one that stays
}

// Retirement says when a route is deprecated and when it ends; empty where that is not
// settled.
type Retirement struct{ Deprecation, Sunset string }

// Routes lists the route table without HEAD, which works wherever GET does, and
// without the extra pages.
func Routes() []RouteInfo {
	var list []RouteInfo
	for _, r := range routeTable() {
		info := RouteInfo{Method: r.method, Path: r.path, Query: r.known(), Scope: scopeOf[r.kind].String(), Writes: r.changes(), Queried: slices.Contains(r.methods(), methodQuery)}
		for _, f := range r.offers {
			info.Offers = append(info.Offers, f.String())
		}
		if t := retirementOf(retirements, &r); t != nil {
			info.Retired = t.info()
		}
		list = append(list, info)
	}
	return list
}

// pageRoutes makes rows of the extra pages.
func pageRoutes(pages []Page) []route {
	rows := make([]route, len(pages))
	for i, page := range pages {
		rows[i] = route{method: http.MethodGet, path: page.Path, kind: documenting, query: nil, handle: func(x *exchange) error {
			asPage(x.Response().Header(), page.ContentSecurityPolicy)
			if strings.HasSuffix(page.Path, "*") && x.Param("*") == "" && !strings.HasSuffix(x.Request().URL.Path, "/") {
				return echo.ErrNotFound
			}
			page.Handler.ServeHTTP(x.Response(), x.Request())
			return nil
		}}
	}
	return rows
}
