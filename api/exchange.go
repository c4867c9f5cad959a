package api

import (
	"context"
	"crypto/rand"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	"github.com/labstack/echo/v4"

	"swarf/api/gate"
	"swarf/api/page"
	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/access"
	"swarf/domain/catalog"
	"swarf/domain/unit"
)

// exchange is one request and what becomes of it. It wraps Echo's context, which
// handlers get as this type.
type exchange struct {
	echo.Context
	s        *Server
	route    *route // nil when none matched
	id       string
	started  time.Time
	known    []string // query parameters of the route
	query    parameters
	system   unit.System // of the answer and of the texts of faults
	format   format
	style    csvStyle
	only     bool            // a write is checked, and not kept
	fields   *wire.Selection // of the answer that the caller wants; nil: all
	findings int
	snap     *catalog.Snapshot
	key      *access.Key // that the request came with; nil without
	keyID    string      // that it claimed to come with, for the log
	bucket   *bucket     // of the caller's quota; nil: not counted
	// recording holds the answer of a write back until it is kept; nil: none is kept.
	recording *recorder
	counting  *gate.Reader // of a body that is not read at once; nil: none
	seat      seat         // among what is computed at a time
	turned    bool         // away because of too much work: counted, and no error in the log
	cause     error        // behind a problem of ours, for the log
	stack     string       // of a panic, for the log
}

func (s *Server) newExchange(c echo.Context) *exchange {
	x := &exchange{Context: c, s: s, started: time.Now()}
	x.id = requestID(c.Request().Header.Get("X-Request-Id"))
	return x
}

// Ids of this process's own making: a random part, so that no two replicas give the
// same, and a count.
var (
	process  = rand.Text()[:10] + "-"
	requests atomic.Uint64
)

// requestID takes over the caller's id when it is short and plain, and makes one
// otherwise.
func requestID(given string) string {
	if len(given) > 0 && len(given) <= 64 && !strings.ContainsFunc(given, notPlain) {
		return given
	}
	return process + strconv.FormatUint(requests.Add(1), 36)
}

func notPlain(r rune) bool {
	switch {
	case r >= '0' && r <= '9', r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r == '-', r == '_', r == '.':
		return false
	}
	return true
}

// now returns the snapshot to answer from: that of as_of, or the present one. The
// same request always gets the same snapshot.
func (x *exchange) now() (*catalog.Snapshot, error) {
	if x.snap != nil {
		return x.snap, nil
	}
	snap := x.s.Snapshots()
	if snap == nil {
		x.Response().Header().Set("Retry-After", "1")
		return nil, fault(domain.Unavailable, "data-not-ready", "", "no data has been loaded yet", "try again in a moment; /readyz says when it is there")
	}
	if text := x.query.text("as_of"); text != "" {
		present := snap
		if err := x.aside(func() (err error) {
			snap, err = x.s.asOf(x.Request().Context(), text, present)
			return err
		}); err != nil {
			return nil, err
		}
	}
	if text := x.query.text("valid_at"); text != "" {
		var err error
		if snap, err = x.s.validAt(snap, text); err != nil {
			return nil, err
		}
	}
	x.use(snap)
	return snap, nil
}

// use makes a snapshot the one of the exchange and states its revision.
func (x *exchange) use(snap *catalog.Snapshot) {
	x.snap = snap
	x.Response().Header().Set("Data-Revision", strconv.FormatInt(snap.Revision, 10))
}

// asOf finds the snapshot of a revision or a time.
func (s *Server) asOf(ctx context.Context, text string, present *catalog.Snapshot) (*catalog.Snapshot, error) {
	newest := "the newest revision is " + strconv.FormatInt(present.Revision, 10)
	revision, err := strconv.ParseInt(text, 10, 64)
	if err != nil || strings.HasPrefix(text, "+") {
		// A plus sign in a query is a blank.
		stamp := strings.ReplaceAll(text, " ", "+")
		if _, err := time.Parse(time.RFC3339, stamp); err != nil {
			return nil, fault(domain.Unreadable, "wrong-type", "as_of", "as_of is "+strconv.Quote(clip(text))+", neither a revision nor an RFC 3339 time",
				"send a whole number or a time such as 2026-03-03T12:00:00Z")
		}
		text = stamp
	} else if revision == present.Revision {
		return present, nil
	} else if revision < 1 || revision > present.Revision {
		return nil, fault(domain.Invalid, "as-of-unknown", "as_of", "there is no revision "+text, newest)
	}
	if s.AsOf == nil {
		return nil, fault(domain.Invalid, "as-of-unknown", "as_of", "the reference data in the binary has no history", newest)
	}
	ctx, cancel := context.WithTimeout(ctx, s.Limits.StoreTimeout)
	defer cancel()
	return s.AsOf(ctx, text)
}

// pathValue reads a value of the path, decoded once. A value with a slash of its
// own in the path is another path; an encoded slash belongs to the value.
func (x *exchange) pathValue(name string) (string, error) {
	value := x.Param(name)
	if value == "" || strings.Contains(value, "/") {
		return "", echo.ErrNotFound
	}
	// Echo matches the path as sent when it differs from the decoded one.
	if x.Request().URL.RawPath != "" {
		decoded, err := url.PathUnescape(value)
		if err != nil {
			return "", echo.ErrNotFound
		}
		value = decoded
	}
	return value, nil
}

// send writes an answer. A HEAD request gets the headers alone.
func (x *exchange) send(status int, contentType string, body []byte) error {
	if x.only && status < http.StatusBadRequest {
		status = x.checkedOnly(status)
	}
	w := x.Response()
	h := w.Header()
	h["Content-Type"] = []string{contentType}
	h["Content-Length"] = []string{strconv.Itoa(len(body))}
	switch {
	case h.Get("Content-Security-Policy") != "": // the page has its own
	case strings.HasPrefix(contentType, "text/html"):
		asPage(h, page.Policy)
	case contentType == formatSVG.contentType(): // a browser shows it as a document
		asPage(h, pictureMayLoad)
	}
	x.leave()
	w.WriteHeader(status)
	if x.Request().Method == http.MethodHead {
		return nil
	}
	return x.deliver(body)
}
