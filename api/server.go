// Package api is the HTTP edge: one route table, strict parsing, negotiation,
// conditional requests and problem documents. A handler parses, looks up, computes
// and renders; everything it computes with comes from one immutable snapshot.
package api

import (
	"context"
	"log/slog"
	"net/http"
	"net/netip"
	"slices"
	"strings"
	"sync/atomic"
	"time"

	"github.com/labstack/echo/v4"
	"github.com/prometheus/client_golang/prometheus"

	"swarf/domain/catalog"
)

// Modes in which the service holds its data.
const (
	Embedded   = "embedded"   // the reference data in the binary, read-only
	PostgreSQL = "postgresql" // a database is the system of record
)

// Options is what a server is made of. Snapshots and ModelVersion are required.
type Options struct {
	// Snapshots returns the snapshot to answer from; nil means that no data has
	// been loaded yet. It is called once per request and must not block.
	Snapshots func() *catalog.Snapshot
	// AsOf returns the snapshot of a revision or an RFC 3339 time. Without it only
	// the present revision can be asked for. An unknown revision is an Error with
	// the code as-of-unknown.
	AsOf func(ctx context.Context, text string) (*catalog.Snapshot, error)
	// Store keeps machines and their history; nil in embedded mode.
	Store Store
	// Refresh returns once Snapshots gives the revision or a later one.
	Refresh func(ctx context.Context, revision int64) error
	// Keys keeps who may ask; nil: there are no keys.
	Keys Keys
	// Require says which requests need a key.
	Require Requirement
	// KeyQuota bounds what each key may ask for, OpenQuota each address without one.
	KeyQuota, OpenQuota Quota
	// Answers keeps answers for Idempotency-Key; nil: the field is passed over.
	Answers Answers
	// Degraded says why data may be stale; nil when nothing is wrong.
	Degraded func() *Degraded
	// Mode is Embedded or PostgreSQL.
	Mode string
	// Logger takes one line per request; nil discards.
	Logger *slog.Logger
	// ModelVersion is the version of the formulas.
	ModelVersion string
	// Build says what is running.
	Build Build
	// Limits bounds requests; zero members take the defaults.
	Limits Limits
	// Metrics takes what is counted; nil: nothing is.
	Metrics prometheus.Registerer
	// Extra rows of the route table, such as the documentation.
	Extra []Page
}

// Build says what is running.
type Build struct {
	Version string
	Go      string
	Commit  string // empty when not known
}

// Degraded says that answers come from data that may be stale.
type Degraded struct {
	Since  time.Time // when the database was last heard of
	Reason string    // plain words, no address and no credentials
}

// Limits bounds what one request may cost.
type Limits struct {
	BodyBytes     int64         // a body; 1 MiB
	BatchBytes    int64         // the body of a batch; 16 MiB
	BatchItems    int           // items in a batch; 10,000
	ImportBytes   int64         // the body of an import; 64 MiB
	WorkbookBytes int64         // of one that is a workbook, which is held whole; 16 MiB
	HeldBytes     int64         // memory for long bodies, batches in work and answers not taken yet; 256 MiB
	StoreTimeout  time.Duration // one request's time at the store; 5 s
}

func (l Limits) orDefaults() Limits {
	if l.BodyBytes == 0 {
		l.BodyBytes = 1 << 20
	}
	if l.BatchBytes == 0 {
		l.BatchBytes = 16 << 20
	}
	if l.BatchItems == 0 {
		l.BatchItems = 10_000
	}
	if l.ImportBytes == 0 {
		l.ImportBytes = 64 << 20
	}
	if l.WorkbookBytes == 0 {
		l.WorkbookBytes = 16 << 20
	}
	if l.HeldBytes == 0 {
		l.HeldBytes = 256 << 20
	}
	if l.StoreTimeout == 0 {
		l.StoreTimeout = 5 * time.Second
	}
	return l
}

// Page is a document served beside the API, such as its description.
type Page struct {
	Path                  string // with {name} for values, a trailing /* for a tree
	Handler               http.Handler
	ContentSecurityPolicy string // empty: nothing may be loaded
}

// Server answers requests.
type Server struct {
	Options
	echo     *echo.Echo
	routes   []route
	allow    map[string]string // path as Echo writes it to the Allow header
	draining atomic.Bool
	floor    floor
	metrics  *metrics // nil: nothing is counted
	retired  []retirement

	byKey     *meters[string]
	byAddress *meters[netip.Prefix]
	admission
}

// Drain makes /readyz say that the service is going away, so that no new callers
// are sent here; requests are still answered, each as the last of its connection.
func (s *Server) Drain() { s.draining.Store(true) }

// Draining reports whether Drain was called.
func (s *Server) Draining() bool { return s.draining.Load() }

// New makes a server of the route table. It starts nothing.
func New(options Options) *Server {
	return newServer(options, append(routeTable(), pageRoutes(options.Extra)...), retirements...)
}

func newServer(options Options, routes []route, retired ...retirement) *Server {
	options.Limits = options.Limits.orDefaults()
	if options.Logger == nil {
		options.Logger = slog.New(slog.DiscardHandler)
	}
	if options.Mode == "" {
		options.Mode = Embedded
	}
	s := &Server{Options: options, echo: echo.New(), routes: routes, retired: retired, allow: make(map[string]string)}
	s.byKey, s.byAddress = newMeters[string](options.KeyQuota), newMeters[netip.Prefix](options.OpenQuota)
	s.admission = newAdmission(options.Limits.HeldBytes)
	e := s.echo
	e.HideBanner, e.HidePort = true, true
	// The address is that of the connection: a header that anybody can send says
	// nothing about who sent it.
	e.IPExtractor = echo.ExtractIPDirect()
	e.HTTPErrorHandler = func(err error, c echo.Context) { s.newExchange(c).fail(err) }
	if options.Metrics != nil {
		s.metrics = newMetrics(s)
	}
	e.Use(s.edge)
	s.register()
	return s
}

// Handler is the server as a handler of net/http.
func (s *Server) Handler() http.Handler { return s.echo }

// register puts the table into the router. Wherever GET works, HEAD works.
func (s *Server) register() {
	methods := make(map[string][]string)
	for i := range s.routes {
		r := &s.routes[i]
		path := echoPath(r.path)
		handler := s.handler(r)
		for _, method := range r.methods() {
			s.echo.Add(method, path, handler)
			methods[path] = append(methods[path], method)
		}
	}
	for path, list := range methods {
		slices.Sort(list)
		s.allow[path] = strings.Join(list, ", ")
	}
}

// Accept-Query says in what a QUERY may come (RFC 10008): of one computation, of a batch.
var (
	acceptQuery      = []string{"application/json"}
	acceptBatchQuery = []string{"application/json, text/csv, application/x-ndjson"}
)

// handler does for every route what its row says: who may ask, query parameters, format,
// then the route's own work, which is done once where the caller says so.
func (s *Server) handler(r *route) echo.HandlerFunc {
	known, links, goes := r.known(), r.standing(), retirementOf(s.retired, r)
	var queried []string
	switch { // by GET too, so that callers learn of it
	case r.ofCuts() && r.kind == batching:
		queried = acceptBatchQuery
	case r.ofCuts():
		queried = acceptQuery
	}
	return func(c echo.Context) error {
		x := c.(*exchange)
		x.route = r
		h := x.Response().Header()
		if links != nil {
			h["Link"] = links
		}
		if goes != nil {
			x.announce(goes)
		}
		if queried != nil {
			h["Accept-Query"] = queried
		}
		if err := x.admit(); err != nil {
			return err
		}
		x.known = known
		if err := x.readQuery(); err != nil {
			return err
		}
		if err := x.readValidateOnly(); err != nil {
			return err
		}
		if r.changes() || x.prefersLater() {
			return x.once(r.handle)
		}
		return r.handle(x)
	}
}

// echoPath writes /v1/materials/{id} as Echo wants it, /v1/materials/:id.
func echoPath(path string) string {
	return strings.NewReplacer("{", ":", "}", "").Replace(path)
}
