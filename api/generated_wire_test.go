package api_test

import (
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"testing"
	"time"
)

// The same requests over a connection, as clients send them: to the program at GENERATED_URL,
// which has no database unless GENERATED_KEY is a key of it, or to the service in this one.
func TestGeneratedRequestsOverHTTP(t *testing.T) {
	count, seed := setting(t, "GENERATED_SENT", 1_000), setting(t, "GENERATED_SEED", int(time.Now().UnixNano()%1_000_000_007))
	base := os.Getenv("GENERATED_URL")
	if base == "" {
		server := httptest.NewServer(embeddedHandler(t))
		defer server.Close()
		base = server.URL
	}
	t.Logf("GENERATED_SEED=%d GENERATED_SENT=%d %s", seed, count, base)
	sum, operations := newTally(t), describedOperations(t, published(t))
	key := os.Getenv("GENERATED_KEY")
	g := &generator{rng: rand.New(rand.NewPCG(uint64(seed), 1)), operations: operations}
	client := &http.Client{Timeout: time.Minute, Transport: &http.Transport{DisableCompression: true}, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	began := time.Now()
	for i := range count {
		r := g.request(i)
		if key != "" && g.rng.IntN(8) > 0 && !r.has("Authorization") {
			r.headers = append(r.headers, "Authorization: Bearer "+key)
		}
		request, err := r.sent(base)
		if err != nil {
			continue // no client can send it
		}
		answer, err := client.Do(request)
		if err != nil {
			t.Fatalf("request %d: %v\n  %v", i, err, r)
		}
		body, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		if err != nil {
			t.Fatalf("request %d: the answer ends early: %v\n  %v", i, err, r)
		}
		got := reply{status: answer.StatusCode, header: answer.Header, body: body}
		sum.add(r, got, r.judge(got, key == ""), "over HTTP")
	}
	sum.tell(t, time.Since(began))
	if sum.requests < count*98/100 || count < 1_000 {
		t.Errorf("%d requests are too few", sum.requests)
	}
	if good := sum.classes[2] + sum.classes[3]; good < count/5 || sum.refused < count/10 {
		t.Errorf("of %d requests %d were answered and %d spoilt ones refused", count, good, sum.refused)
	}
	for _, d := range operations {
		if name := d.method + " " + d.path; sum.operations[name] < everyTime*9/10 {
			t.Errorf("%s was asked only %d times", name, sum.operations[name])
		}
	}
}
