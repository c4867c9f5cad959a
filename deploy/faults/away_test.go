//go:build faults

package faults

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"
	"time"

	"swarf/db/dbtest"
)

// away are the manners in which a database is not there. What must hold while it lasts: a
// link that only trickles may let a write through, the others let none.
var away = []struct {
	name         string
	lets         bool
	begin, ended func(s *dbtest.Server, p *proxy)
}{
	{"stopped", false, func(s *dbtest.Server, _ *proxy) { s.Stop() }, func(s *dbtest.Server, _ *proxy) { s.Start() }},
	{"black-holed", false, spoilt("timeout", `{"timeout":0}`), mended},
	{"reset", false, spoilt("reset_peer", `{"timeout":0}`), mended},
	{"slowed", false, spoilt("latency", `{"latency":2000}`), mended},
	{"sliced", true, spoilt("slicer", `{"average_size":256,"size_variation":128,"delay":10}`), mended},
}

func spoilt(kind, attributes string) func(*dbtest.Server, *proxy) {
	return func(_ *dbtest.Server, p *proxy) { p.spoil(kind, attributes) }
}

func mended(_ *dbtest.Server, p *proxy) { p.mend() }

// readiness is what /readyz says.
type readiness struct {
	Status   string
	Degraded *struct {
		AgeSeconds *int64 `json:"age_seconds"`
		Reason     string
	}
}

func (s *service) readiness() (r readiness, status int) {
	a, err := ask(http.MethodGet, s.address()+"/readyz", "")
	if err != nil || json.Unmarshal([]byte(a.body), &r) != nil {
		return readiness{}, 0
	}
	return r, a.status
}

// While the database is away, no read and no computation fails or gets another digit, the
// service says how old its data is, writes are refused soon and with a word when to come
// again, and once it is back they work, with nothing lost.
func TestDatabaseAway(t *testing.T) {
	chance := begin(t)
	server := dbtest.NewServer(t, dbtest.OnLoopback(t)...)
	durable(t, server)
	loaded(t, server.URL())
	p := between(t, server.Address())
	s := serve(t, "DATABASE_URL="+p.url())
	s.ready()
	if a, err := put(s); err != nil || a.status != http.StatusCreated {
		t.Fatalf("a write before anything is wrong: %d %v %s", a.status, err, a.body)
	}
	rate, length := chosen(200, 2_000), chosen(3*time.Second, time.Duration(scaled(60))*time.Second)
	l := startLoad(t, s.address, rate)
	w := startWriters(t, chance, s.address, chosen(50*time.Millisecond, 20*time.Millisecond))
	for _, way := range away {
		t.Run(way.name, func(t *testing.T) {
			eventually(t, "writes work", writes(s))
			l.next()
			time.Sleep(chosen(time.Second, length/4))
			before := l.next()
			before.hold(t, "before", rate)
			way.begin(server, p)
			began := time.Now()
			var told readiness
			var statuses [600]int
			var longest, slowest time.Duration // of a refusal, of a write that was taken
			tried, unhelpful := 0, 0
			for time.Since(began) < length || tried < 5 && time.Since(began) < length+patience {
				a, err := put(s)
				if err != nil {
					t.Errorf("a write got no answer: %v", err)
					continue
				}
				statuses[a.status]++
				if tried++; a.status == http.StatusCreated {
					slowest = max(slowest, a.took)
				} else {
					longest = max(longest, a.took)
				}
				if a.status == http.StatusServiceUnavailable && (a.header.Get("Retry-After") == "" || !strings.Contains(a.body, "data-not-ready")) {
					unhelpful++
				}
				if r, status := s.readiness(); r.Status == "degraded" && status == http.StatusOK {
					told = r
				}
				time.Sleep(100 * time.Millisecond)
			}
			way.ended(server, p)
			back := eventually(t, "writes work again", writes(s))
			during := l.next()
			during.hold(t, "during", rate)
			t.Logf("%d writes: %d refused after %.0f ms at most, %d taken after %.0f ms at most; they worked %.0f ms after the end", tried, statuses[503], ms(longest), statuses[201], ms(slowest), ms(back))
			eventually(t, "readiness is whole again", func() bool { r, _ := s.readiness(); return r.Status == "ready" })
			switch refused := statuses[http.StatusServiceUnavailable]; {
			case refused+statuses[http.StatusCreated] != tried || refused == 0 && !way.lets || statuses[http.StatusCreated] > 1 && !way.lets:
				t.Errorf("of %d writes %d were refused, %d taken", tried, refused, statuses[http.StatusCreated])
			case unhelpful > 0:
				t.Errorf("%d refusals do not say when to come again", unhelpful)
			case !way.lets && (told.Degraded == nil || told.Degraded.AgeSeconds == nil || *told.Degraded.AgeSeconds > int64(time.Since(began).Seconds())+2):
				t.Errorf("/readyz does not say how old the data is: %+v", told)
			}
			if long() {
				judge(t, "the longest wait for a refusal", longest, 500*time.Millisecond)
				judge(t, "writes after the end", back, 2*time.Second)
				judge(t, "the 99th percentile", during.at(0.99), before.at(0.99)*3/2)
			}
		})
	}
	l.end()
	w.end()
	t.Logf("asked at %d requests/s; %d were never sent, for %d were under way", rate, l.late.Load(), workers)
	held(t, w, server, chosen(50, 2_000))
	if long() {
		computed(t, server)
	}
}

// held compares the ledger of writers with the database and asks for some traffic.
func held(t *testing.T, w *writers, server *dbtest.Server, least int) {
	t.Helper()
	checked := w.ledger.hold(t, server, nil)
	t.Logf("ledger: %v; %d writes were repeated and got the first answer; %d things compared", w.ledger, w.replayed.Load(), checked)
	if w.ledger.count(acked) < least {
		t.Errorf("only %d writes were acknowledged, %d are needed", w.ledger.count(acked), least)
	}
	if text := w.refusal.Load(); text != nil {
		t.Errorf("a write was refused that should not be: %.500s", *text)
	}
}

func judge(t *testing.T, what string, is, most time.Duration) {
	t.Helper()
	if is > most {
		t.Errorf("%s: %.1f ms, at most %.1f ms are promised", what, ms(is), ms(most))
	}
}

// put writes a new machine.
func put(s *service) (answer, error) {
	id := "probe-" + time.Now().Format("150405.000000000")
	var headers []string
	if time.Now().UnixMicro()%2 == 0 { // by both ways through the service
		headers = []string{"Idempotency-Key", id}
	}
	return putMachine("*", "")(s.address(), id, "6000", headers...)
}

// writes reports whether a write works.
func writes(s *service) func() bool {
	return func() bool {
		a, err := put(s)
		return err == nil && a.status == http.StatusCreated
	}
}

// A server that may lose what it acknowledges gets no writes, unless somebody wants that.
func TestServerThatMayLoseWrites(t *testing.T) {
	begin(t)
	server := dbtest.NewServer(t)
	loaded(t, server.URL())
	for _, setting := range []string{"fsync", "synchronous_commit"} {
		t.Run(setting, func(t *testing.T) {
			set := func(value string) {
				for _, statement := range []string{"ALTER SYSTEM SET " + setting + " = " + value, "SELECT pg_reload_conf()::text"} {
					if err := server.Do(statement); err != nil {
						t.Fatal(err)
					}
				}
				eventually(t, setting+" is "+value, func() bool { is, _ := server.Ask("SHOW " + setting); return is == value })
			}
			set("off")
			s := serve(t, "DATABASE_URL="+server.URL(), "SWARF_DB_PATIENCE=10s")
			s.ready()
			if a, err := put(s); err != nil || a.status != http.StatusServiceUnavailable || !strings.Contains(a.body, setting+" is off") {
				t.Errorf("a write: %d %v %s", a.status, err, a.body)
			}
			if text := s.log.String(); !strings.Contains(text, "writes are at risk") || !strings.Contains(text, setting+" is off") {
				t.Errorf("the start says nothing of it:\n%s", text)
			}
			any := serve(t, "DATABASE_URL="+server.URL(), "SWARF_DB_PATIENCE=10s", "SWARF_UNSAFE_WRITES=true")
			any.ready()
			if a, err := put(any); err != nil || a.status != http.StatusCreated {
				t.Errorf("a write that somebody wants: %d %v %s", a.status, err, a.body)
			}
			set("on")
			if a, err := put(s); err != nil || a.status != http.StatusCreated {
				t.Errorf("a write with %s on again: %d %v %s", setting, a.status, err, a.body)
			}
		})
	}
}
