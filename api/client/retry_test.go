package client_test

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"swarf/api/client"
	"swarf/api/wire"
)

// script answers one request after the other with what is written down: a status, with
// "=3" behind it a Retry-After; 0 breaks the connection off.
func script(answers ...string) (http.Handler, func() []*http.Request) {
	var mu sync.Mutex
	var asked []*http.Request
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		mu.Lock()
		now := answers[min(len(asked), len(answers)-1)]
		asked = append(asked, r)
		mu.Unlock()
		status, wait, asks := strings.Cut(now, "=")
		if asks {
			w.Header().Set("Retry-After", wait)
		}
		var code int
		fmt.Sscan(status, &code)
		switch {
		case code == 0:
			panic(http.ErrAbortHandler)
		case code >= 300:
			w.Header().Set("Content-Type", "application/problem+json; charset=utf-8")
			w.WriteHeader(code)
			fmt.Fprintf(w, `{"type":"/problems/busy","title":"Busy","status":%d,"detail":"come later","code":"busy","faults":[],"later":true}`, code)
		default:
			w.WriteHeader(code)
			fmt.Fprint(w, `{"status":"ready","verdict":"yes","later":true}`)
		}
	}), func() []*http.Request { mu.Lock(); defer mu.Unlock(); return slices.Clone(asked) }
}

// Only what may be repeated is repeated, only after what may pass, and not before the time
// that the server asks for.
func TestRepeats(t *testing.T) {
	read := func(c *client.Client) error { return last(c.Ready(t.Context())) }
	compute := func(c *client.Client) error { return last(c.Estimate(t.Context(), wire.Cut{}, client.Compute{})) }
	replace := func(c *client.Client) error {
		return last(c.PutMachine(t.Context(), wire.Machine{ID: "m"}, client.Write{Tag: `"1"`}))
	}
	create := func(c *client.Client) error {
		return last(c.PutMachine(t.Context(), wire.Machine{ID: "m"}, client.Write{}))
	}
	keyed := func(c *client.Client) error {
		return last(c.Observe(t.Context(), wire.Observation{}, client.Write{Key: "k1"}))
	}
	plain := func(c *client.Client) error {
		return last(c.Observe(t.Context(), wire.Observation{}, client.Write{}))
	}
	for _, k := range []struct {
		name    string
		answers string
		do      func(*client.Client) error
		sent    int
		ends    string // fine, the status of a problem, or lost
		waits   []time.Duration
	}{
		{"a read after 503", "503=2 200", read, 2, "fine", []time.Duration{2 * time.Second}},
		{"a read after 503 without a time", "503 200", read, 2, "fine", []time.Duration{0}},
		{"a read after a lost answer", "0 0 200", read, 3, "fine", []time.Duration{0, 0}},
		{"a read after 429 and 502 and 504", "429=1 502 504 200", read, 4, "fine", []time.Duration{time.Second, 0, 0}},
		{"a read four times at the most", "503", read, 4, "503", []time.Duration{0, 0, 0}},
		{"lost four times", "0", read, 4, "lost", []time.Duration{0, 0, 0}},
		{"a wait beyond patience", "503=3600 200", read, 1, "503", nil},
		{"a fault of the server", "500 200", read, 1, "500", nil},
		{"a fault of the request", "400 200", compute, 1, "400", nil},
		{"a computation", "503=1 0 200", compute, 3, "fine", []time.Duration{time.Second, 0}},
		{"a write with a tag", "503 200", replace, 2, "fine", []time.Duration{0}},
		{"a write that creates", "503 201", create, 2, "fine", []time.Duration{0}},
		{"a write with a tag that was done before", "0 412", replace, 2, "412", []time.Duration{0}},
		{"a write with a key", "0 429=4 201", keyed, 3, "fine", []time.Duration{0, 4 * time.Second}},
		{"a write without either", "503=1 201", plain, 1, "503", nil},
		{"a write without either that is lost", "0 201", plain, 1, "lost", nil},
	} {
		t.Run(k.name, func(t *testing.T) {
			h, asked := script(strings.Fields(k.answers)...)
			var waits []time.Duration
			c := at(t, h, client.Options{Wait: func(_ context.Context, d time.Duration) error { waits = append(waits, d); return nil }})
			err := k.do(c)
			var p *client.Problem
			var u *client.Unreachable
			ends, tries := "fine", k.sent
			switch {
			case errors.As(err, &p):
				ends, tries = fmt.Sprint(p.Status), p.Tries
			case errors.As(err, &u):
				ends, tries = "lost", u.Tries
			case err != nil:
				ends = err.Error()
			}
			if len(asked()) != k.sent || tries != k.sent || ends != k.ends {
				t.Errorf("sent %d times, told %d, ended %s (%v); want %d and %s", len(asked()), tries, ends, err, k.sent, k.ends)
			}
			if len(waits) != len(k.waits) {
				t.Fatalf("waited %v, want %v", waits, k.waits)
			}
			for i, least := range k.waits {
				if waits[i] < least || waits[i] <= 0 || least == 0 && waits[i] > 5*time.Second {
					t.Errorf("waited %v, want at least %v", waits, k.waits)
				}
			}
			for _, r := range asked() {
				if key := r.Header.Get("Idempotency-Key"); k.name == "a write with a key" && key != "k1" {
					t.Errorf("a try without its key: %q", key)
				}
			}
		})
	}
}

// A context that ends ends the waiting and the asking.
func TestContextEndsAll(t *testing.T) {
	h, asked := script("503=5")
	ctx, cancel := context.WithCancelCause(t.Context())
	c := at(t, h, client.Options{Wait: func(ctx context.Context, _ time.Duration) error {
		cancel(nil)
		<-ctx.Done()
		return ctx.Err()
	}})
	_, err := c.Ready(ctx)
	var u *client.Unreachable
	if !errors.As(err, &u) || !errors.Is(err, context.Canceled) || len(asked()) != 1 {
		t.Errorf("%v after %d requests", err, len(asked()))
	}
}

// A wait that would outlive the context is not begun: the problem says what was asked for.
func TestContextTooShortForTheWait(t *testing.T) {
	h, asked := script("503=8", "200")
	ctx, cancel := context.WithTimeout(t.Context(), 5*time.Second)
	defer cancel()
	_, err := at(t, h, client.Options{}).Ready(ctx)
	var p *client.Problem
	if !errors.As(err, &p) || p.RetryAfter != 8*time.Second || len(asked()) != 1 {
		t.Errorf("%v after %d requests", err, len(asked()))
	}
}

// However often it is tried, a pause is some time and not much.
func TestPausesStayShort(t *testing.T) {
	h, asked := script("503")
	var longest time.Duration
	c := at(t, h, client.Options{Tries: 60, Wait: func(_ context.Context, d time.Duration) error { longest = max(longest, d); return nil }})
	if err := last(c.Ready(t.Context())); err == nil || len(asked()) != 60 || longest <= 2*time.Second || longest > 5*time.Second {
		t.Errorf("%v after %d requests, %v the longest pause", err, len(asked()), longest)
	}
}

// A try that gets no answer in its time is given up, and the next may get one.
func TestATryHasItsTime(t *testing.T) {
	var tries atomic.Int32
	c := at(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if tries.Add(1) == 1 {
			<-r.Context().Done()
			return
		}
		fmt.Fprint(w, `{"status":"ready"}`)
	}), client.Options{Timeout: 2 * time.Second})
	ready, err := c.Ready(t.Context())
	if err != nil || ready.Status != "ready" || tries.Load() != 2 {
		t.Errorf("%+v %v after %d tries", ready, err, tries.Load())
	}
}

func TestRetryAfterAsATime(t *testing.T) {
	at503 := at(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Retry-After", time.Now().Add(40*time.Second).UTC().Format(http.TimeFormat))
		w.WriteHeader(http.StatusServiceUnavailable)
	}), client.Options{})
	_, err := at503.Ready(t.Context())
	var p *client.Problem
	if !errors.As(err, &p) || p.RetryAfter < 30*time.Second || p.RetryAfter > 41*time.Second || p.Tries != 1 {
		t.Errorf("%+v", p)
	}
}

// What stands between may answer in its own way; it is a problem without a code.
func TestStrangeAnswers(t *testing.T) {
	for _, k := range []struct {
		status     int
		kind, body string
		want       string
	}{
		{404, "text/html", "<h1>Not   here</h1>", "the server answered 404: <h1>Not here</h1>"},
		{403, "application/problem+json", "{", "the server answered 403: {"},
		{401, "application/json", "", "the server answered 401: Unauthorized"},
		{200, "text/html", "<h1>Sign in</h1>", "the server answered 200: invalid character"},
	} {
		c := at(t, http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Type", k.kind)
			w.WriteHeader(k.status)
			fmt.Fprint(w, k.body)
		}), client.Options{Tries: 1})
		_, err := c.Ready(t.Context())
		var p *client.Problem
		if !errors.As(err, &p) || p.Status != k.status || !strings.HasPrefix(err.Error(), k.want) {
			t.Errorf("%d %s: %v, want %s", k.status, k.body, err, k.want)
		}
	}
}

func TestAddresses(t *testing.T) {
	for _, server := range []string{"", "127.0.0.1:8080", "ftp://127.0.0.1", "http://", "http://x/?a=b", "http://x/#a", "http://[::1"} {
		if _, err := client.New(server, client.Options{}); err == nil {
			t.Errorf("%q is taken", server)
		}
	}
	var path, key, from string
	h := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		path, key, from = r.URL.EscapedPath(), r.Header.Get("Authorization"), r.Header.Get("From")
		fmt.Fprint(w, "{}")
	})
	c := at(t, http.StripPrefix("", h), client.Options{Key: "secret", From: "planner@shop.example"})
	if _, err := c.Machine(t.Context(), "a/b c", client.Read{}); err != nil || path != "/v1/machines/a%2Fb%20c" || key != "Bearer secret" || from != "planner@shop.example" {
		t.Errorf("%v: %s %s %s", err, path, key, from)
	}
}
