package api

import (
	"fmt"
	"net/http"
	"time"
)

// retirement says that a row of the route table goes: since when it is deprecated (RFC
// 9745), when it ends (RFC 8594), and where callers go instead. Nothing else about the row
// changes until then.
type retirement struct {
	method, path string    // of a row of the route table
	since        time.Time // of its deprecation
	ends         time.Time // zero: not settled yet; never before since
	successor    string    // path of the route that takes its place; empty: none
	why          string    // path of a page about it; empty: none
}

// retirements are the rows that go. The document and the headers follow from them. Both a
// row of its own and one for GET stand here where a computation goes.
var retirements = []retirement{}

// retirementOf finds that of a row, nil for one that stays.
func retirementOf(list []retirement, r *route) *retirement {
	for i := range list {
		if t := &list[i]; t.method == r.method && t.path == r.path {
			return t
		}
	}
	return nil
}

// info is what documentation says of it.
func (t *retirement) info() *Retirement {
	out := &Retirement{Deprecation: fmt.Sprintf("@%d", t.since.Unix())}
	if !t.ends.IsZero() {
		out.Sunset = t.ends.UTC().Format(http.TimeFormat)
	}
	return out
}

// announce tells callers of a row that it goes.
func (x *exchange) announce(t *retirement) {
	h := x.Response().Header()
	info := t.info()
	if h.Set("Deprecation", info.Deprecation); info.Sunset != "" {
		h.Set("Sunset", info.Sunset)
	}
	if t.successor != "" {
		x.link(t.successor, "successor-version")
	}
	if t.why != "" {
		x.link(t.why, "deprecation")
	}
}
