package api

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"runtime/debug"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"swarf/api/page"
	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/unit"
)

// nothingMayLoad is the content security policy of a page without parts of its own.
const nothingMayLoad = "default-src 'none'; frame-ancestors 'none'"

// pictureMayLoad is that of an SVG: its own styles and the font that is in it, no script, and
// no frame around it.
const pictureMayLoad = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; sandbox"

// Header values of most answers, made once.
var (
	noSniff         = []string{"nosniff"}
	connectionClose = []string{"close"}
	varyAccept      = []string{"Accept"}
	varyPrefer      = []string{"Accept, Prefer"} // of what a strict caller may not get
)

// asPage says what a browser that shows an answer as a document may load: JSON, CSV
// and plain text are never shown as one, and do not carry it.
func asPage(h http.Header, policy string) {
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Content-Security-Policy", cmp.Or(policy, nothingMayLoad))
}

// edge is the outermost layer: it gives the request its id, the answer its common
// headers, turns errors and panics into problems and writes the log line.
func (s *Server) edge(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		x := s.newExchange(c)
		h := c.Response().Header()
		h["X-Request-Id"] = []string{x.id}
		h["X-Content-Type-Options"] = noSniff
		if len(c.Request().TransferEncoding) > 0 || s.Draining() {
			// So that callers are gone before the connections of a stopping service are. And
			// net/http does not tell whether a length stood beside a coding, by which a proxy
			// may have seen the end of the request elsewhere (RFC 9112, 6.3): nothing more is
			// read from such a connection.
			h["Connection"] = connectionClose
		}
		if s.metrics != nil {
			s.metrics.active.Inc()
			defer s.metrics.active.Dec()
		}
		defer x.end()
		if err := x.guard(next); err != nil {
			x.fail(err)
		}
		x.log()
		x.trace()
		if s.metrics != nil {
			s.metrics.count(x)
		}
		return nil
	}
}

// guard refuses what no route may see, and runs the rest.
func (x *exchange) guard(next echo.HandlerFunc) error {
	return x.protect(func() error {
		path := echo.GetPath(x.Request())
		if len(path) > 1 && strings.HasSuffix(path, "/") && !strings.HasSuffix(x.Path(), "*") {
			return echo.ErrNotFound
		}
		if x.Request().Method == http.MethodOptions {
			return echo.ErrMethodNotAllowed
		}
		if err := checkHeader(x.Request().Header); err != nil {
			return err
		}
		if err := checkLength(x.Request()); err != nil {
			return err
		}
		return next(x)
	})
}

// mostURL is the longest URL, scheme and host included, that spreadsheets and old
// connectors can ask for, and every proxy on the way lets through.
const mostURL = 2047

// checkLength refuses a URL that is too long, before anybody relies on it.
func checkLength(r *http.Request) error {
	n := len("https://") + len(r.Host) + len(r.RequestURI)
	if n <= mostURL {
		return nil
	}
	return fault(domain.Invalid, "url-too-long", "", "the URL has "+strconv.Itoa(n)+" characters with its scheme and host, more than "+strconv.Itoa(mostURL),
		"use short names, such as DC for cutting_diameter, or send the request as the body of a POST or QUERY")
}

// checkHeader refuses header fields that are too large together.
func checkHeader(h http.Header) error {
	const perField = len(": \r\n")
	n := 0
	for name, values := range h {
		for _, value := range values {
			n += len(name) + len(value) + perField
		}
	}
	if n <= mostHeader {
		return nil
	}
	return fault(domain.Invalid, "headers-too-large", "", "the header fields are "+strconv.Itoa(n)+" bytes together, more than "+strconv.Itoa(mostHeader), "send fewer or shorter ones")
}

// protect runs a function and turns a panic in it into an error.
func (x *exchange) protect(do func() error) error {
	stack, err := protect(do)
	if stack != "" {
		x.stack = stack
	}
	return err
}

// protect runs a function and turns a panic in it into an error, with where it was.
func protect(do func() error) (stack string, failure error) {
	defer func() {
		switch v := recover(); v {
		case nil:
		case http.ErrAbortHandler:
			panic(v)
		default:
			stack, failure = string(debug.Stack()), fmt.Errorf("panic: %v", v)
		}
	}()
	return "", do()
}

// fail answers with the problem that an error is.
func (x *exchange) fail(err error) {
	if x.Response().Committed {
		x.cause = err
		return
	}
	p, faults := x.problemOf(err, x.system)
	p.RequestID = x.id
	p.Instance = x.Request().URL.EscapedPath()
	for _, e := range faults {
		if e.Kind == domain.Internal {
			x.cause = errors.Join(x.cause, e)
		}
		if e.Kind == domain.Unavailable {
			x.cause = errors.Join(x.cause, e.Err)
			if e.Code == "data-not-ready" || e.Code == "overloaded" {
				x.turned = e.Code == "overloaded"
				x.Response().Header().Set("Retry-After", "1")
			}
		}
	}
	h := x.Response().Header()
	h.Del("ETag")
	h.Del("Content-Location")
	h.Set("Cache-Control", "no-store")
	x.link(p.Type, "describedby")
	contentType, body := problemBody(&p, problemFormat(x.Request()))
	if err := x.send(p.Status, contentType, body); err != nil {
		x.cause = errors.Join(x.cause, err)
	}
}

// problemOf is the problem document of an error, and the faults it came of.
func (x *exchange) problemOf(err error, system unit.System) (wire.Problem, domain.Errors) {
	if _, ok := errors.AsType[*holding](err); ok {
		return problemOf(err, system), nil
	}
	faults := x.faults(err)
	return newProblem(faults, system), faults
}

// problemOf is the problem document of an error that is not of a request's making.
func problemOf(err error, system unit.System) wire.Problem {
	if h, ok := errors.AsType[*holding](err); ok {
		return h.problem()
	}
	return newProblem(domain.Faults(err), system)
}

// faults unpacks an error, those of the router included.
func (x *exchange) faults(err error) domain.Errors {
	var routing *echo.HTTPError
	if !errors.As(err, &routing) {
		var said *domain.Error
		if !errors.As(err, &said) && (errors.Is(err, context.DeadlineExceeded) || errors.Is(err, context.Canceled)) {
			return domain.Errors{{Kind: domain.Unavailable, Code: "data-not-ready", Msg: "the answer took too long", Fix: "try again", Err: err}}
		}
		return domain.Faults(err)
	}
	r := x.Request()
	switch routing.Code {
	case http.StatusNotFound:
		return domain.Errors{fault(domain.NotFound, "not-found", "", "there is nothing at "+clip(r.URL.Path), pathHint(r.URL.Path))}
	case http.StatusMethodNotAllowed:
		allow := x.s.allow[x.Path()]
		if allow == "" {
			return domain.Errors{fault(domain.NotFound, "not-found", "", "there is nothing at "+clip(r.URL.Path), pathHint(r.URL.Path))}
		}
		x.Response().Header().Set("Allow", allow)
		return domain.Errors{fault(domain.Invalid, "method-not-allowed", "", clip(r.URL.Path)+" has no method "+clip(r.Method), "use "+allow)}
	}
	return domain.Errors{{Kind: domain.Internal, Code: "internal", Msg: "internal error", Err: err}}
}

// pathHint says what to do about a path that does not exist.
func pathHint(path string) string {
	if len(path) > 1 && strings.HasSuffix(path, "/") {
		return "leave out the slash at the end"
	}
	return "see /openapi.json for the routes there are"
}

// problemBody writes a problem document, its lines for a caller who reads text, one marked
// line for a caller who expects a number or a line of a program, or a page.
func problemBody(p *wire.Problem, f format) (string, []byte) {
	switch f {
	case formatHTML:
		body, err := page.Problem(p)
		if err != nil {
			panic(err) // words and whole numbers only
		}
		return f.contentType(), body
	case formatValue, formatWords:
		return f.contentType(), wire.AppendMarked(nil, p.Code, p.Detail)
	case formatText:
		lines, err := wire.AppendText(nil, problemText{p.Code, p.Status, p.Title, p.Detail, p.Ref, p.RequestID, p.Faults, p.Candidates}, unit.Metric)
		if err != nil {
			panic(err) // words and whole numbers only
		}
		return formatText.contentType(), wire.AppendTextClose(lines, "error")
	}
	body, err := json.Marshal(p)
	if err != nil {
		panic(err) // words and whole numbers only
	}
	return problemType, body
}

// problemText is a problem as text has it. Status, which closes every text, says
// that this is no answer.
type problemText struct {
	Code       string           `json:"code"`
	HTTPStatus int              `json:"http_status"`
	Title      string           `json:"title"`
	Detail     string           `json:"detail"`
	Ref        string           `json:"ref,omitempty"`
	RequestID  string           `json:"request_id,omitempty"`
	Faults     []wire.Fault     `json:"faults"`
	Candidates []wire.Candidate `json:"candidates,omitempty"`
}

// log writes the one line of the request.
func (x *exchange) log() {
	level := slog.LevelInfo
	status := x.Response().Status
	if status >= http.StatusInternalServerError && !x.turned {
		level = slog.LevelError
	}
	ctx := x.Request().Context()
	if !x.s.Logger.Enabled(ctx, level) {
		return
	}
	route := "none"
	if x.route != nil {
		route = x.route.path
	}
	attrs := make([]slog.Attr, 0, 10)
	attrs = append(attrs,
		slog.String("id", x.id),
		slog.String("method", x.Request().Method),
		slog.String("route", route),
		slog.Int("status", status),
		slog.Duration("time", time.Since(x.started)),
		slog.Int("findings", x.findings))
	if x.keyID != "" {
		attrs = append(attrs, slog.String("key", x.keyID))
	}
	if x.cause != nil {
		attrs = append(attrs, slog.String("cause", x.cause.Error()))
	}
	if x.stack != "" {
		attrs = append(attrs, slog.String("stack", x.stack))
	}
	x.s.Logger.LogAttrs(ctx, level, "request", attrs...)
}
