package api

import (
	"errors"
	"net"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"swarf/domain"
	"swarf/domain/access"
)

// Requirement says which requests need a key. Administration needs one always.
type Requirement uint8

// The requirements, from the least on.
const (
	KeysOff       Requirement = iota // none: who writes is who says so
	KeysOnceMade                     // none until the first key was made, then those that write; forwarded ones all
	KeysForWrites                    // those that write or approve
	KeysAlways                       // all of them
)

// viewParameter is where a view token stands in an address.
const viewParameter = "view_token"

// scopeOf is what a key must be allowed for each kind of route; the kinds that are not here
// are open to everybody.
var scopeOf = map[kind]access.Scopes{
	reading:       access.Read,
	writing:       access.Write,
	approving:     access.Approve,
	administering: access.Admin,
	computing:     access.Compute,
	batching:      access.Compute,
}

// admit lets a request in, or says why not: it finds its key, counts it against the quota of
// whoever asks, and holds the scopes of the key against the route. All of it is done from
// memory.
func (x *exchange) admit() error {
	view, err := x.takeViewToken()
	scope := scopeOf[x.route.kind]
	if scope == 0 {
		return err
	}
	if err == nil {
		err = x.authenticate(view)
	}
	if busy := x.meter(err != nil); busy != nil {
		return busy
	}
	if err != nil {
		var r *refusal
		if errors.As(err, &r) {
			x.challenge(r.reason, 0)
		}
		return err
	}
	return x.authorise(scope)
}

// takeViewToken takes a view token out of the address, so that nothing after sees it there:
// no log, no link to the next page, no cursor.
func (x *exchange) takeViewToken() (string, error) {
	r := x.Request()
	if !strings.Contains(r.URL.RawQuery, viewParameter+"=") {
		return "", nil
	}
	var token string
	var rest []string
	found := 0
	for part := range strings.SplitSeq(r.URL.RawQuery, "&") {
		value, ok := strings.CutPrefix(part, viewParameter+"=")
		if !ok {
			rest = append(rest, part)
			continue
		}
		found++
		token, _ = url.QueryUnescape(value)
	}
	bare := *r.URL
	bare.RawQuery = strings.Join(rest, "&")
	clean := r.Clone(r.Context())
	clean.URL, clean.RequestURI = &bare, bare.RequestURI()
	x.SetRequest(clean)
	h := x.Response().Header()
	h.Set("Referrer-Policy", "no-referrer")
	x.Response().Before(func() { private(h) })
	if found > 1 {
		return "", fault(domain.Unreadable, "wrong-type", viewParameter, "the parameter is given "+strconv.Itoa(found)+" times", "give it once")
	}
	if token == "" {
		return "", notAuthenticated("", "the view token is empty", "give it or leave the parameter out")
	}
	return token, nil
}

// private keeps an answer out of caches that others share.
func private(h http.Header) {
	switch control := h.Get("Cache-Control"); {
	case control == "":
		h.Set("Cache-Control", "private")
	case !strings.Contains(control, "no-store"):
		h.Set("Cache-Control", "private, "+control)
	}
}

// authenticate finds the key of the request; without any it leaves x.key nil.
func (x *exchange) authenticate(view string) error {
	text, err := bearer(x.Request().Header.Values("Authorization"))
	switch {
	case err != nil:
		return err
	case text != "" && view != "":
		return notAuthenticated("", "the request has a key and a view token", "send one of them")
	case text == "" && view == "":
		return nil
	case text == "":
		text = view
	}
	token, err := access.Parse(text)
	if err != nil {
		return notAuthenticated("invalid_token", err.Error(), "copy the whole key as it was shown: swarf_…, without quotes or blanks")
	}
	x.keyID = token.ID
	if view != "" && !token.View {
		return notAuthenticated("invalid_token", "a key stands in the address, where others may have seen it",
			"revoke it or rotate it, send keys in the Authorization header, and make a view token for addresses")
	}
	if x.s.Keys == nil {
		return notAuthenticated("invalid_token", "the service runs without a database, so there are no keys", "leave the key out")
	}
	ring := x.s.Keys.Ring()
	if ring == nil {
		return x.keysUnread()
	}
	at := x.started.Unix()
	k, fits := ring.Find(token, at)
	if !fits {
		return notAuthenticated("invalid_token", "the key is unknown, expired or revoked", "send a key that is live; whoever administers keys can make or rotate one")
	}
	x.key = k
	x.s.Keys.Used(k.ID, at)
	return nil
}

// bearer reads the Authorization field (RFC 6750, 2.1); empty when there is none.
func bearer(fields []string) (string, error) {
	if len(fields) == 0 {
		return "", nil
	}
	scheme, text, _ := strings.Cut(fields[0], " ")
	if text = strings.TrimSpace(text); len(fields) > 1 || !strings.EqualFold(scheme, "Bearer") || text == "" {
		return "", notAuthenticated("invalid_request", "the Authorization field is not one Bearer key", "send Authorization: Bearer swarf_…")
	}
	return text, nil
}

// authorise holds what a request may do against what its route needs.
func (x *exchange) authorise(scope access.Scopes) error {
	k := x.key
	if k == nil {
		return x.unkeyed(scope)
	}
	if !k.Scopes.Has(scope) {
		x.challenge("insufficient_scope", scope)
		return fault(domain.Invalid, "not-permitted", "Authorization", "the key "+strconv.Quote(k.Name)+" may "+k.Scopes.String()+"; this needs "+scope.String(), "use a key with the scope "+scope.String())
	}
	if method := x.Request().Method; k.View && method != http.MethodGet && method != http.MethodHead {
		x.challenge("insufficient_scope", scope)
		return fault(domain.Invalid, "not-permitted", viewParameter, "a view token reads and computes by GET alone", "use GET, or a key")
	}
	return nil
}

// unkeyed lets a request without a key in where none is needed.
func (x *exchange) unkeyed(scope access.Scopes) error {
	need := x.s.Require
	if need == KeysOnceMade {
		need = KeysOff
		if x.forwarded() {
			need = KeysAlways
		} else if x.s.Keys != nil && scope != access.Read && scope != access.Compute {
			ring := x.s.Keys.Ring()
			if ring == nil {
				return x.keysUnread()
			}
			if !ring.Empty() {
				need = KeysForWrites
			}
		}
	}
	open := access.Scopes(0)
	switch need {
	case KeysOff:
		open = access.Read | access.Compute | access.Write | access.Approve
	case KeysForWrites:
		open = access.Read | access.Compute
	}
	if open.Has(scope) {
		return nil
	}
	if scope == access.Admin && x.s.Keys == nil {
		return noStore("there are no keys")
	}
	x.challenge("", scope)
	return notAuthenticated("", "this needs a key with the scope "+scope.String(), "send Authorization: Bearer swarf_…; `swarf key make` makes the first key, and SWARF_KEYS says what needs one")
}

// forwarded reports a request that comes from elsewhere by what it says itself: a proxy
// added its fields, or the service is called by an address or a public name that is not
// loopback's, as by a web page whose name was made to lead here. Nothing it says is believed
// in its favour.
func (x *exchange) forwarded() bool {
	r := x.Request()
	h := r.Header
	if len(h["X-Forwarded-For"]) > 0 || len(h["Forwarded"]) > 0 || len(h["X-Real-Ip"]) > 0 {
		return true
	}
	host := r.Host
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	if ip := net.ParseIP(strings.Trim(host, "[]")); ip != nil {
		return !ip.IsLoopback()
	}
	return strings.Contains(host, ".") // names without belong to the machine or the shop
}

func (x *exchange) keysUnread() error {
	x.Response().Header().Set("Retry-After", "1")
	return fault(domain.Unavailable, "data-not-ready", "", "the keys have not been read from the database yet", "try again in a moment")
}

// refusal is a request that is not let in for want of a key, with the reason as the
// challenge says it.
type refusal struct {
	fault  *domain.Error
	reason string
}

func notAuthenticated(reason, msg, fix string) error {
	return &refusal{fault(domain.Invalid, "not-authenticated", "Authorization", msg, fix), reason}
}

// Error is the text of the fault.
func (r *refusal) Error() string { return r.fault.Error() }

// Unwrap is the fault itself.
func (r *refusal) Unwrap() error { return r.fault }

// challenge says how to authenticate (RFC 6750, 3).
func (x *exchange) challenge(reason string, scope access.Scopes) {
	text := `Bearer realm="swarf"`
	if reason != "" {
		text += `, error="` + reason + `"`
	}
	if scope != 0 {
		text += `, scope="` + scope.String() + `"`
	}
	x.Response().Header().Set("WWW-Authenticate", text)
}

// signature is who writes: the key's name, and the person whom From names beside it. Without
// a key it is whom From names, or local.
func (x *exchange) signature(text checker) Author {
	from := text.text("From", x.Request().Header.Get("From"), longestReason)
	switch {
	case x.key != nil:
		return Author{Who: x.key.Name, Person: from}
	case from != "":
		return Author{Who: from}
	}
	return Author{Who: "local"}
}
