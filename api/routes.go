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
			{http.MethodGet, "/v1/hardness-conversions", convertHardness, reading, append([]string{"grade", "value", "scale", "tensile_strength"}, recordParameters...), tableFormats},
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
			{http.MethodGet, "/problems", listProblems, documenting, nil, pageFormats},
			{http.MethodGet, "/problems/{slug}", getProblem, documenting, nil, pageFormats},
		},
	)
}

// computationRows are the rows of one computation: by POST, by GET with query
// parameters, and in batches.
func computationRows(path string, one, many func(*exchange) error) []route {
	offers, query, each := tableFormats, computeParameters, computeParameters
	switch path {
	case "/v1/spindle-checks":
		offers, query = drawnFormats, append([]string{"picture"}, computeParameters...)
	case "/v1/estimates":
		offers, query, each = masterFormats, drawParameters, cutParameters
	case "/v1/recommendations":
		offers, query, each = toolFormats, drawParameters, cutParameters
	}
	return []route{
		{http.MethodPost, path, one, computing, query, offers},
		{http.MethodGet, path, one, computing, query, offers},
		{http.MethodPost, path + "/batch", many, batching, append([]string{"units"}, each...), batchFormats},
	}
}

// methods are the methods the row answers.
func (r *route) methods() []string {
	if r.method == http.MethodGet {
		return []string{http.MethodGet, http.MethodHead}
	}
	return []string{r.method}
}

// flat reports a computation whose members stand in the query.
func (r *route) flat(method string) bool {
	return r.kind == computing && method != http.MethodPost
}

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

// known are the query parameters the row takes.
func (r *route) known() []string {
	if len(r.offers) > 1 && !slices.Contains(r.query, "format") {
		return append(slices.Clone(r.query), "format")
	}
	return r.query
}

// RouteInfo tells documentation and its tests what the table holds.
type RouteInfo struct {
	Method string
	Path   string   // with {name} for values
	Query  []string // parameters; empty for a computation by GET, whose members they are
	Scope  string   // that a key needs; empty: open to everybody
	Writes bool     // it may carry an Idempotency-Key
}

// Routes lists the route table without HEAD, which works wherever GET does, and
// without the extra pages.
func Routes() []RouteInfo {
	var list []RouteInfo
	for _, r := range routeTable() {
		list = append(list, RouteInfo{Method: r.method, Path: r.path, Query: r.known(), Scope: scopeOf[r.kind].String(), Writes: r.changes()})
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
