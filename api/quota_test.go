package api_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"swarf/api"
)

const minute = time.Minute

var rateLimit = regexp.MustCompile(`^"default";r=(\d+);t=(\d+)$`)

// left reads what an answer says is left of the quota.
func left(t *testing.T, got reply) (units, reset int) {
	t.Helper()
	m := rateLimit.FindStringSubmatch(got.header.Get("RateLimit"))
	if m == nil {
		t.Fatalf("RateLimit is %q", got.header.Get("RateLimit"))
	}
	units, _ = strconv.Atoi(m[1])
	reset, _ = strconv.Atoi(m[2])
	return units, reset
}

// Requests cost what they load the service with, and every answer says what is left. What is
// too much is refused with the time after which it is not, without having been done.
func TestRequestsCostUnits(t *testing.T) {
	keys := newKeys()
	key := keys.make(t, "a", false, "read", "compute", "write")
	// a window so long that nothing comes back while the test runs
	h := newShop(t).handlerOf(api.Options{Keys: keys, Require: api.KeysAlways, KeyQuota: api.Quota{Units: 200, Window: 240 * time.Hour}})
	item := strings.Replace(strings.TrimSpace(benchBody), `"units":"metric",`, "", 1)
	batch := func(n int) string {
		return `{"units":"metric","items":[` + strings.TrimSuffix(strings.Repeat(item+",", n), ",") + `]}`
	}
	was := 200
	for _, c := range []struct {
		method, target, body string
		costs                int
		status               int
	}{
		{"GET", "/v1/sources", "", 1, 200},
		{"POST", "/v1/estimates", benchBody, 1, 200},
		{"POST", "/v1/estimates/batch", batch(20), 21, 200},
		{"PUT", "/v1/machines/a", aMachine, 10, 201},
		{"GET", "/v1/sources?nonsense=1", "", 1, 400},
		{"POST", "/v1/spindle-checks", `{"units":"metric","cuts":[` + item2(item) + `,` + item2(item) + `],"machines":["vmc-50","vmc-40","lathe-200"]}`, 6, 0},
		{"POST", "/v1/estimates/batch", batch(150), 151, 200},
		{"POST", "/v1/estimates/batch", batch(30), 1, 429},
	} {
		headers := []string{asJSON, key}
		if c.method == "PUT" {
			headers = append(headers, "If-None-Match: *")
		}
		got := call(t, h, c.method, c.target, c.body, headers...)
		if c.status != 0 && got.status != c.status {
			t.Fatalf("%s %s: %d %.300s", c.method, c.target, got.status, got.body)
		}
		units, _ := left(t, got)
		if was-units != c.costs {
			t.Errorf("%s %s cost %d, want %d (%d %.200s)", c.method, c.target, was-units, c.costs, got.status, got.body)
		}
		was = units
		if policy := got.header.Get("RateLimit-Policy"); policy != `"default";q=200;w=864000` {
			t.Errorf("RateLimit-Policy %q", policy)
		}
		if _, reset := left(t, got); got.status == 429 && (got.header.Get("Retry-After") != fmt.Sprint(reset) || reset < 60) {
			t.Errorf("Retry-After %q, reset after %d", got.header.Get("Retry-After"), reset)
		}
	}
	if got := call(t, h, "GET", "/healthz", ""); got.status != 200 || got.header.Get("RateLimit") != "" {
		t.Errorf("the health of the service is counted: %d", got.status)
	}
	other := keys.make(t, "b", false, "read")
	if got := call(t, h, "GET", "/v1/sources", "", other); got.status != 200 {
		t.Errorf("another key: %d", got.status)
	}
}

// item2 is the cut of an estimate without its machine, for a spindle check.
func item2(item string) string { return strings.Replace(item, `,"machine":"vmc-50"`, "", 1) }

// What was used comes back, and the caller is let in when Retry-After said so.
func TestQuotaComesBack(t *testing.T) {
	h := newShop(t).handlerOf(api.Options{OpenQuota: api.Quota{Units: 2, Window: 2 * time.Second}})
	var got reply
	for range 200 {
		if got = call(t, h, "GET", "/v1/sources", ""); got.status == 429 {
			break
		}
	}
	code, _ := problemOf(t, got)
	seconds, _ := strconv.Atoi(got.header.Get("Retry-After"))
	if got.status != 429 || code != "too-many-requests" || seconds != 1 {
		t.Fatalf("%d %s after %d s", got.status, got.body, seconds)
	}
	time.Sleep(time.Duration(seconds) * time.Second)
	if got := call(t, h, "GET", "/v1/sources", ""); got.status != 200 {
		t.Errorf("after the wait: %d %s", got.status, got.body)
	}
}

// A stream is slowed down where it asks for more than the quota; it is not broken off.
func TestStreamsArePaced(t *testing.T) {
	h := newShop(t).handlerOf(api.Options{OpenQuota: api.Quota{Units: 20, Window: time.Second}})
	line := strings.ReplaceAll(benchBody, "\n", "") + "\n"
	began := time.Now()
	got := call(t, h, "POST", "/v1/estimates/batch", strings.Repeat(line, 40), "Content-Type: application/x-ndjson")
	if n := strings.Count(string(got.body), "\n"); got.status != 200 || n != 40 || strings.Contains(string(got.body), `"faults":`) {
		t.Errorf("%d, %d lines: %.300s", got.status, n, got.body)
	}
	if took := time.Since(began); took < 900*time.Millisecond {
		t.Errorf("21 units over the quota of 20 a second took %v", took)
	}
}

// Wrong keys cost their address several requests each, and a right one from the same
// address is not held up by them. An IPv6 network is one caller; this machine is none.
func TestWrongKeysAreCounted(t *testing.T) {
	keys := newKeys()
	key := keys.make(t, "a", false, "read")
	h := newShop(t).handlerOf(api.Options{Keys: keys, Require: api.KeysAlways, OpenQuota: api.Quota{Units: 100, Window: time.Hour}})
	ask := func(remote, header string) int {
		r := httptest.NewRequest(http.MethodGet, "/v1/sources", nil)
		r.RemoteAddr = remote
		r.Header.Set("Authorization", strings.TrimPrefix(header, "Authorization: "))
		return answerTo(h, r).status
	}
	wrong := "Bearer " + stranger()
	count := func(remotes ...string) (n int) {
		for n < 1000 && ask(remotes[n%len(remotes)], wrong) == 401 {
			n++
		}
		return n
	}
	if n := count("192.0.2.1:1"); n != 10 {
		t.Errorf("%d wrong keys from one address", n)
	}
	if status := ask("192.0.2.1:2", key); status != 200 {
		t.Errorf("a right key beside them: %d", status)
	}
	if n := count("[2001:db8::1]:1", "[2001:db8::ffff:2]:1", "[2001:db8:0:0:9::]:7"); n != 10 {
		t.Errorf("%d wrong keys from one network", n)
	}
	if n := count("127.0.0.1:1"); n != 1000 {
		t.Errorf("%d wrong keys from this machine", n)
	}
}
