//go:build faults

package faults

import (
	"math/rand/v2"
	"net/http"
	"strings"
	"testing"
	"time"

	"swarf/db/dbtest"
)

// pair is a primary with a standby that streams from it, the service over both, and traffic.
type pair struct {
	primary, standby *dbtest.Server
	service          *service
	load             *load
	writers          *writers
}

// begun starts a pair. With synchronous, the primary acknowledges nothing that the standby
// has not got.
func begun(t *testing.T, chance *rand.Rand, synchronous bool) *pair {
	t.Helper()
	p := &pair{primary: dbtest.NewServer(t, dbtest.OnLoopback(t)...)}
	durable(t, p.primary)
	loaded(t, p.primary.URL())
	p.standby = dbtest.NewStandby(t, p.primary, "second")
	if synchronous {
		p.confirm(t, "second")
	}
	state := map[bool]string{true: "sync", false: "async"}[synchronous]
	eventually(t, "the standby streams", func() bool {
		is, _ := p.primary.Ask(`SELECT sync_state FROM pg_stat_replication WHERE state = 'streaming' AND replay_lsn = pg_current_wal_lsn()`)
		return is == state
	})
	p.service = serve(t, "DATABASE_URL="+dbtest.Either(p.primary, p.standby))
	p.service.ready()
	p.load = startLoad(t, p.service.address, chosen(100, 1_000))
	p.writers = startWriters(t, chance, p.service.address, chosen(20*time.Millisecond, 10*time.Millisecond))
	within(t, 2*time.Minute, "writes are made", func() bool { return p.writers.ledger.count(acked) > chosen(50, 300) })
	p.load.next().hold(t, "before", chosen(100, 1_000))
	return p
}

// confirm says which standby must confirm a commit of the primary; none for "".
func (p *pair) confirm(t *testing.T, standby string) {
	t.Helper()
	for _, statement := range []string{"ALTER SYSTEM SET synchronous_standby_names = '" + standby + "'", "SELECT pg_reload_conf()::text"} {
		if err := p.primary.Do(statement); err != nil {
			t.Fatal(err)
		}
	}
}

// ended stops the traffic and compares the ledger with a server.
func (p *pair) ended(t *testing.T, now *dbtest.Server, excused func(kind, id, verdict string) bool) {
	t.Helper()
	p.load.next().hold(t, "all along", chosen(100, 1_000))
	p.load.end()
	p.writers.end()
	checked := p.writers.ledger.hold(t, now, excused)
	t.Logf("ledger: %v; %d things compared", p.writers.ledger, checked)
	if text := p.writers.refusal.Load(); text != nil {
		t.Errorf("a write was refused that should not be: %.500s", *text)
	}
}

// The primary is killed and the standby promoted, under load: reads never fail, writes go on
// soon, and what was acknowledged is there. The old one comes back, believes that it is the
// primary still, and gets nothing, even when it is the only one there.
func TestFailover(t *testing.T) {
	chance := begin(t)
	p := begun(t, chance, true)
	p.primary.Kill()
	killed := time.Now()
	p.standby.Promote()
	promoted := time.Since(killed)
	eventually(t, "writes go on", writes(p.service))
	t.Logf("promoted after %.0f ms, writes went on %.0f ms after the death, %.0f ms after the promotion", ms(promoted), ms(time.Since(killed)), ms(time.Since(killed)-promoted))
	if long() {
		judge(t, "writes after the death", time.Since(killed), 5*time.Second)
	}
	eventually(t, "readiness is whole again", func() bool { r, _ := p.service.readiness(); return r.Status == "ready" })

	p.primary.Start()
	p.confirm(t, "")
	before, err := p.primary.Ask(everything)
	if err != nil {
		t.Fatal(err)
	}
	time.Sleep(chosen(2*time.Second, 10*time.Second)) // both are there
	p.standby.Stop()
	refused := 0
	for began := time.Now(); time.Since(began) < chosen(2*time.Second, 20*time.Second) || refused < 5; time.Sleep(50 * time.Millisecond) {
		a, err := put(p.service)
		if err != nil || a.status != http.StatusServiceUnavailable {
			t.Errorf("a write while only the deposed one is there: %d %v %s", a.status, err, a.body)
		}
		if refused++; refused > 1_000 {
			break
		}
	}
	after, err := p.primary.Ask(everything)
	if err != nil || after != before {
		t.Errorf("the deposed one took something: %s, %s before, %v", after, before, err)
	}
	p.standby.Start()
	eventually(t, "writes go on", writes(p.service))
	t.Logf("%d writes refused while only the deposed one was there", refused)
	p.ended(t, p.standby, nil)
}

// everything counts what people write.
const everything = `SELECT concat_ws(' ', (SELECT revision FROM data_revision), (SELECT count(*) FROM changes), (SELECT max(id) FROM observation), (SELECT max(id) FROM job))`

// The standby is promoted while the primary lives and does not know. What the deposed one
// still acknowledged is not lost unnoticed: the log names each thing, and nothing more is
// taken there.
func TestSplitBrain(t *testing.T) {
	chance := begin(t)
	p := begun(t, chance, false)
	p.standby.Promote()
	began := time.Now()
	took := eventually(t, "another server took over", func() bool {
		return strings.Contains(p.service.log.String(), "another database server took over")
	})
	eventually(t, "writes go on", writes(p.service))
	t.Logf("the promotion was noticed %.0f ms after it, writes went on %.0f ms after it", ms(took), ms(time.Since(began)))
	before, err := p.primary.Ask(everything)
	if err != nil {
		t.Fatal(err)
	}
	least := p.writers.ledger.count(acked) + chosen(50, 300)
	within(t, 2*time.Minute, "writes are made", func() bool { return p.writers.ledger.count(acked) > least })
	if after, err := p.primary.Ask(everything); err != nil || after != before {
		t.Errorf("the deposed one took something afterwards: %s, %s before, %v", after, before, err)
	}
	told := p.service.log.String()
	noticed := map[string]int{}
	p.ended(t, p.standby, func(kind, id, verdict string) bool {
		if verdict != missing && verdict != another || !p.named(t, told, kind, id) {
			return false
		}
		noticed[kind]++
		return true
	})
	t.Logf("acknowledged by the deposed one and named in the log: %v", noticed)
	if len(noticed) == 0 {
		t.Error("the deposed one acknowledged nothing: there was nothing to notice")
	}
}

// named reports whether the log names a thing that the deposed server holds.
func (p *pair) named(t *testing.T, told, kind, id string) bool {
	t.Helper()
	name, err := kind+"/"+id, error(nil)
	switch kind {
	case "counter":
		name = "machine/" + id
	case "observations":
		name, err = p.primary.Ask(`SELECT 'observation/' || min(id) || '-' || max(id) FROM observation WHERE lot = $1`, id)
	case "job":
		name, err = p.primary.Ask(`SELECT 'job/' || id FROM job WHERE who = $1`, id)
	}
	if err != nil {
		t.Fatal(err)
	}
	return strings.Contains(told, name+" ") || strings.Contains(told, name+"]")
}
