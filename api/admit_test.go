package api_test

import (
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"swarf/api"
	"swarf/domain/access"
)

// needed is the scope that a route needs by what its method and path are, written down
// apart from the route table.
func needed(r api.RouteInfo) string {
	last := r.Path[strings.LastIndex(r.Path, "/")+1:]
	computations := []string{"estimates", "recommendations", "spindle-checks", "plans", "corrections", "diagnoses", "jobs", "tool-assets"}
	of := strings.Split(strings.TrimPrefix(r.Path, "/v1/"), "/")[0]
	switch {
	case !strings.HasPrefix(r.Path, "/v1/"):
		return ""
	case of == "keys":
		return "admin"
	case last == "approval" || last == "withdrawal":
		return "approve"
	case slices.Contains(computations, of):
		return "compute"
	case r.Method == http.MethodGet:
		return "read"
	}
	return "write"
}

// target is a path of a route whose values name nothing.
func targetOf(r api.RouteInfo) string {
	return strings.NewReplacer("{id}", "nothing", "{slug}", "nothing").Replace(r.Path)
}

// Every route is asked without a key and with a key of every scope alone, under every
// requirement; who is let in is what the class of the route says, and HEAD is as GET.
func TestEveryRouteWithEveryScope(t *testing.T) {
	open := map[api.Requirement][]string{
		api.KeysOff: {"read", "compute", "write", "approve"}, api.KeysForWrites: {"read", "compute"},
		api.KeysOnceMade: {"read", "compute"}, api.KeysAlways: nil,
	}
	asked := 0
	for need, opened := range open {
		keys := newKeys()
		h := keyed(t, keys, need)
		sent := map[string]string{"": ""}
		for _, scope := range access.ScopeNames() {
			sent[scope] = keys.make(t, scope, false, scope)
		}
		for _, r := range api.Routes() {
			scope := needed(r)
			if scope != r.Scope {
				t.Errorf("%s %s is of the scope %q, by its name %q", r.Method, r.Path, r.Scope, scope)
			}
			methods := []string{r.Method}
			if r.Method == http.MethodGet {
				methods = append(methods, http.MethodHead)
			}
			for with, header := range sent {
				want := 0
				switch {
				case scope == "":
				case with == "" && !slices.Contains(opened, scope):
					want = http.StatusUnauthorized
				case with != "" && with != scope:
					want = http.StatusForbidden
				}
				for _, method := range methods {
					headers := []string{asJSON}
					if header != "" {
						headers = append(headers, header)
					}
					got := call(t, h, method, targetOf(r), "", headers...)
					refused := 0
					if got.status == http.StatusUnauthorized || got.status == http.StatusForbidden {
						refused = got.status
						if challenge := got.header.Get("WWW-Authenticate"); !strings.HasPrefix(challenge, `Bearer realm="swarf"`) {
							t.Errorf("%s %s with %q: %d with the challenge %q", method, r.Path, with, got.status, challenge)
						}
					}
					if refused != want || got.status == http.StatusServiceUnavailable {
						t.Errorf("requirement %d: %s %s with the scope %q: %d, want %d: %s", need, method, r.Path, with, got.status, want, got.body)
					}
					asked++
				}
			}
		}
	}
	if asked < 4*6*40 {
		t.Errorf("only %d requests were made", asked)
	}
}

// Before the first key an open loopback takes writes under what From says; with it, they
// need a key, and the history knows the key and whom it named.
func TestTheFirstKeyClosesWrites(t *testing.T) {
	keys := newKeys()
	shop := newShop(t)
	h := shop.handlerOf(api.Options{Keys: keys, Require: api.KeysOnceMade})
	if got := call(t, h, "PUT", "/v1/machines/a", aMachine, asJSON, "If-None-Match: *", "From: ann"); got.status != 201 {
		t.Fatalf("%d %s", got.status, got.body)
	}
	key := keys.make(t, "MES line 3", false, "write")
	if got := call(t, h, "PUT", "/v1/machines/b", aMachine, asJSON, "If-None-Match: *", "From: ann"); got.status != 401 {
		t.Errorf("%d %s", got.status, got.body)
	}
	if got := call(t, h, "PUT", "/v1/machines/b", aMachine, asJSON, "If-None-Match: *", "From: ann", key); got.status != 201 {
		t.Errorf("%d %s", got.status, got.body)
	}
	if got := call(t, h, "GET", "/v1/machines/b", ""); got.status != 200 {
		t.Errorf("a read on loopback: %d", got.status)
	}
	feed := string(call(t, h, "GET", "/v1/changes", "").body)
	if !strings.Contains(feed, `"who":"ann"`) || !strings.Contains(feed, `"who":"MES line 3","person":"ann"`) {
		t.Error(feed)
	}
}

// With one key two people are one: what was written with it, it cannot approve.
func TestAKeyIsOnePerson(t *testing.T) {
	keys := newKeys()
	h := keyed(t, keys, api.KeysAlways)
	one, other := keys.make(t, "one", false, "write", "approve"), keys.make(t, "other", false, "approve")
	body := exampleBody(t, published(t).Paths.Value("/v1/records/{id}").Put)
	if got := call(t, h, "PUT", "/v1/records/kc-own", body, asJSON, "If-None-Match: *", one, "From: ann"); got.status != 201 || member2(got.doc, "author") != "one" {
		t.Fatalf("%d %s", got.status, got.body)
	}
	const why = `{"reason":"held against the meter"}`
	if got := call(t, h, "POST", "/v1/records/kc-own/approval", why, asJSON, one, "From: bob"); got.status != 422 || member2(got.doc, "code") != "approver-is-author" {
		t.Errorf("%d %s", got.status, got.body)
	}
	if got := call(t, h, "POST", "/v1/records/kc-own/approval", why, asJSON, other); got.status != 200 || member2(got.doc, "approver") != "other" {
		t.Errorf("%d %s", got.status, got.body)
	}
}

// What says that it is a key and is none is refused everywhere, also where none is needed.
func TestWrongKeys(t *testing.T) {
	keys := newKeys()
	key, view := keys.make(t, "a", false, "read"), keys.make(t, "b", true, "read")
	gone := keys.make(t, "c", false, "read")
	if _, err := keys.ChangeKey(t.Context(), idOf(gone), api.Author{Who: "x"}, func(k *access.Key) error { k.RevokedUnix = 1; return nil }); err != nil {
		t.Fatal(err)
	}
	keys.Refresh(t.Context())
	token := strings.TrimPrefix(key, "Authorization: Bearer ")
	for _, need := range []api.Requirement{api.KeysOff, api.KeysAlways} {
		h := keyed(t, keys, need)
		for name, c := range map[string]struct {
			target, header string
			says           string
		}{
			"revoked":          {"/v1/sources", gone, "unknown, expired or revoked"},
			"mistyped":         {"/v1/sources", "Authorization: Bearer " + token[:len(token)-1] + "1", "checksum"},
			"something else":   {"/v1/sources", "Authorization: Bearer abc", "no key of this service"},
			"another scheme":   {"/v1/sources", "Authorization: Basic YTpi", "not one Bearer key"},
			"nothing":          {"/v1/sources", "Authorization: Bearer ", "not one Bearer key"},
			"in the address":   {"/v1/sources?view_token=" + token, "", "stands in the address"},
			"both":             {"/v1/sources?" + view, key, "a key and a view token"},
			"an empty view":    {"/v1/sources?view_token=", "", "empty"},
			"of nobody":        {"/v1/sources", "Authorization: Bearer " + stranger(), "unknown, expired or revoked"},
			"with blank space": {"/v1/sources", "Authorization: Bearer " + token + " x", "no key of this service"},
		} {
			var headers []string
			if c.header != "" {
				headers = append(headers, c.header)
			}
			got := call(t, h, "GET", c.target, "", headers...)
			if code, _ := problemOf(t, got); got.status != 401 || code != "not-authenticated" || !strings.Contains(string(got.body), c.says) {
				t.Errorf("requirement %d, %s: %d %s", need, name, got.status, got.body)
			}
			if strings.Contains(string(got.body), token) {
				t.Errorf("%s: the answer shows the key", name)
			}
		}
	}
}

// stranger is a well-formed token of no key.
func stranger() string {
	text, _ := access.NewToken("aaaaaaaa", false, [access.SecretBytes]byte{1})
	return text
}

// A view token reads and computes by GET, and nothing of it is seen again: its answers are
// for one reader, and a link to the next page does not carry it.
func TestViewTokens(t *testing.T) {
	keys := newKeys()
	view := keys.make(t, "wall sheet", true, "read", "compute")
	h := keyed(t, keys, api.KeysAlways)
	const cut = "/v1/estimates?units=metric&grade=1.4301&operation=drilling&class=drill-indexable&cutting_diameter=30&hole_depth=60&through=true&cutting_speed=120&feed_per_revolution=0.1"
	plain := call(t, newShop(t).handler(), "GET", cut, "")
	got := call(t, h, "GET", cut+"&"+view, "")
	if got.status != 200 || string(got.body) != string(plain.body) {
		t.Errorf("%d %s", got.status, got.body)
	}
	page := call(t, h, "GET", "/v1/materials?limit=1&"+view, "")
	if page.status != 200 || linkOf(page, "next") == "" {
		t.Fatalf("%d %v", page.status, page.header)
	}
	next := linkOf(page, "next")
	if strings.Contains(next, "swarfview") {
		t.Errorf("the link carries the token: %s", next)
	}
	if again := call(t, h, "GET", next+"&"+view, ""); again.status != 200 {
		t.Errorf("the next page: %d %s", again.status, again.body)
	}
	for name, r := range map[string]reply{"a computation": got, "a list": page, "an unchanged list": call(t, h, "GET", "/v1/sources?"+view, "", "If-None-Match: *"), "a problem": call(t, h, "GET", "/v1/sources?nonsense=1&"+view, "")} {
		control := r.header.Get("Cache-Control")
		if !strings.Contains(control, "private") && !strings.Contains(control, "no-store") || r.header.Get("Referrer-Policy") != "no-referrer" {
			t.Errorf("%s: Cache-Control %q, Referrer-Policy %q", name, control, r.header.Get("Referrer-Policy"))
		}
	}
	for _, c := range []struct {
		method, target string
		status         int
	}{
		{"HEAD", "/v1/sources?" + view, 200}, {"POST", "/v1/estimates?" + view, 403}, {"POST", "/v1/estimates/batch?" + view, 403},
		{"PUT", "/v1/machines/a?" + view, 403}, {"GET", "/v1/keys?" + view, 403}, {"GET", "/v1/sources?" + view + "&" + view, 400},
	} {
		if got := call(t, h, c.method, c.target, "", asJSON); got.status != c.status {
			t.Errorf("%s %s: %d, want %d: %s", c.method, strings.Split(c.target, "?")[0], got.status, c.status, got.body)
		}
	}
}

// No header makes a caller one of this machine or somebody else: what it says of addresses
// is never believed, and takes away what loopback alone is allowed.
func TestSpoofedAddressesHaveNoEffect(t *testing.T) {
	keys := newKeys()
	quota := api.Quota{Units: 60, Window: minute}
	spoofs := []string{"X-Forwarded-For: 127.0.0.1", "Forwarded: for=127.0.0.1", "X-Real-IP: 127.0.0.1", "X-Forwarded-For: 10.0.0.9", "True-Client-IP: 127.0.0.1", "X-Client-IP: 127.0.0.1"}
	from := func(h http.Handler, remote, target string, headers ...string) int {
		r := httptest.NewRequest("GET", target, nil)
		r.RemoteAddr = remote
		for _, line := range headers {
			name, value, _ := strings.Cut(line, ": ")
			r.Header.Set(name, value)
		}
		return answerTo(h, r).status
	}
	always := newShop(t).handlerOf(api.Options{Keys: keys, Require: api.KeysAlways})
	open := newShop(t).handlerOf(api.Options{Keys: keys, Require: api.KeysOff, OpenQuota: quota})
	for i := range 60 {
		if status := from(open, "192.0.2.7:99", "/v1/sources", spoofs[i%len(spoofs)]); status != 200 {
			t.Fatalf("request %d: %d", i, status)
		}
	}
	for _, spoof := range spoofs {
		if status := from(always, "192.0.2.7:99", "/v1/sources", spoof); status != 401 {
			t.Errorf("%s lets a caller without key in: %d", spoof, status)
		}
		if status := from(open, "192.0.2.7:99", "/v1/sources", spoof); status != 429 {
			t.Errorf("%s gives a new quota: %d", spoof, status)
		}
	}
	if status := from(open, "192.0.2.8:99", "/v1/sources"); status != 200 {
		t.Errorf("another address: %d", status)
	}
	loop := newShop(t).handlerOf(api.Options{Keys: keys, Require: api.KeysOnceMade})
	if status := from(loop, "127.0.0.1:99", "/v1/sources"); status != 200 {
		t.Errorf("loopback: %d", status)
	}
	if status := from(loop, "127.0.0.1:99", "/v1/sources", spoofs[3]); status != 401 {
		t.Errorf("a forwarded request on loopback: %d", status)
	}
	for name, want := range map[string]int{"localhost:8080": 200, "127.0.0.1": 200, "[::1]:8080": 200, "mes-box:8080": 200, "rebound.example": 401, "10.1.2.3:8080": 401} {
		if status := from(loop, "127.0.0.1:99", "http://"+name+"/v1/sources"); status != want {
			t.Errorf("loopback called by the name %s: %d, want %d", name, status, want)
		}
	}
}

// Until the keys were read nobody is let in on a key, nor writes without.
func TestKeysNotReadYet(t *testing.T) {
	keys := newKeys()
	key := keys.make(t, "a", false, "read", "write")
	keys.ring = nil
	h := keyed(t, keys, api.KeysOnceMade)
	for _, headers := range [][]string{{asJSON, key, "If-None-Match: *"}, {asJSON, "If-None-Match: *"}} {
		if got := call(t, h, "PUT", "/v1/machines/a", aMachine, headers...); got.status != 503 || got.header.Get("Retry-After") == "" {
			t.Errorf("%v: %d %s", headers, got.status, got.body)
		}
	}
	if got := call(t, h, "GET", "/v1/sources", ""); got.status != 200 {
		t.Errorf("a read: %d", got.status)
	}
	if got := call(t, keyed(t, keys, api.KeysAlways), "GET", "/v1/sources", ""); got.status != 401 {
		t.Errorf("without a key: %d", got.status)
	}
}
