package api

import (
	"context"
	"math"
	"net/netip"
	"strconv"
	"sync"
	"time"

	"golang.org/x/time/rate"

	"swarf/api/wire"
	"swarf/domain"
)

// Quota is how much one caller may ask for: so many units, of which all come back within a
// window. Zero units bound nothing. A read or a computation costs a unit, a batch one more
// for each of its items, a spindle check one for each pair, a plan one for each cut, a write
// ten and an import one more for each ten rows.
type Quota struct {
	Units  int
	Window time.Duration
}

// Costs of what is more than a read or a computation.
const (
	costOfWrite = 10
	costOfKnock = 10 // a key that is none
)

// mostMeters bounds how many callers are counted at a time.
const mostMeters = 20_000

// meters counts callers against a quota. A caller's count is a bucket that fills steadily.
type meters[Caller comparable] struct {
	quota  Quota
	policy string // as RateLimit-Policy says it

	mu   sync.RWMutex
	held map[Caller]*bucket
}

func newMeters[Caller comparable](q Quota) *meters[Caller] {
	if q.Units <= 0 {
		return nil
	}
	seconds := strconv.Itoa(int(math.Ceil(q.Window.Seconds())))
	return &meters[Caller]{quota: q, policy: `"default";q=` + strconv.Itoa(q.Units) + ";w=" + seconds, held: make(map[Caller]*bucket)}
}

// of is the bucket of a caller, a full one when it is new.
func (m *meters[Caller]) of(c Caller, now time.Time) *bucket {
	m.mu.RLock()
	b := m.held[c]
	m.mu.RUnlock()
	if b == nil {
		b = m.add(c, now)
	}
	return b
}

func (m *meters[Caller]) add(c Caller, now time.Time) *bucket {
	m.mu.Lock()
	defer m.mu.Unlock()
	if b := m.held[c]; b != nil {
		return b
	}
	if len(m.held) >= mostMeters {
		m.sweep(now)
	}
	perSecond := float64(m.quota.Units) / m.quota.Window.Seconds()
	b := &bucket{rate.NewLimiter(rate.Limit(perSecond), m.quota.Units), []string{m.policy}}
	m.held[c] = b
	return b
}

// sweep forgets callers whose buckets are full, which is as good as never having seen them;
// where that is not enough, every other one.
func (m *meters[Caller]) sweep(now time.Time) {
	for c, b := range m.held {
		if b.TokensAt(now) >= float64(b.Burst()) {
			delete(m.held, c)
		}
	}
	if len(m.held) < mostMeters/2 {
		return
	}
	odd := false
	for c := range m.held {
		if odd = !odd; odd {
			delete(m.held, c)
		}
	}
}

// bucket is the count of one caller.
type bucket struct {
	*rate.Limiter
	policy []string // as the header field
}

// take takes units; what is more than the whole quota costs all of it. When there are not
// enough it takes none and says after how many seconds there will be.
func (b *bucket) take(units int, now time.Time) (wait int, taken bool) {
	units = min(units, b.Burst())
	if b.AllowN(now, units) {
		return 0, true
	}
	lack := float64(units) - max(b.TokensAt(now), 0)
	return max(1, int(math.Ceil(lack/float64(b.Limit())))), false
}

// meter counts the request against the quota of its key, or of its address when it has
// none, and tells what is left. A wrong key counts as several requests of its address.
func (x *exchange) meter(wrong bool) error {
	switch {
	case x.key != nil:
		if x.s.byKey != nil {
			x.bucket = x.s.byKey.of(x.key.ID, x.started)
		}
	case x.s.byAddress != nil:
		if from, counted := addressOf(x.Request().RemoteAddr); counted {
			x.bucket = x.s.byAddress.of(from, x.started)
		}
	}
	switch {
	case wrong:
		return x.charge(costOfKnock)
	case x.route.changes():
		return x.charge(costOfWrite)
	}
	return x.charge(1)
}

// addressOf is the address of a connection as it is counted: an IPv6 network is one caller.
// Callers on the machine itself are not counted.
func addressOf(remote string) (netip.Prefix, bool) {
	at, err := netip.ParseAddrPort(remote)
	if err != nil {
		return netip.Prefix{}, true
	}
	address := at.Addr().Unmap().WithZone("")
	bits := 32
	if address.Is6() {
		bits = 64
	}
	from, _ := address.Prefix(bits)
	return from, !address.IsLoopback()
}

// chargeOf is what a computation costs: one for each pair of a spindle check and each cut of a
// plan.
func chargeOf(req any) int {
	switch r := req.(type) {
	case *wire.SpindleCheck:
		return max(1, len(r.Cuts)) * max(1, len(r.Machines))
	case *wire.PlanRequest:
		return max(1, len(r.Cuts))
	}
	return 1
}

// charge takes units from the caller's quota.
func (x *exchange) charge(units int) error {
	b := x.bucket
	if b == nil || units <= 0 {
		return nil
	}
	now := time.Now()
	wait, taken := b.take(units, now)
	left := max(0, int(b.TokensAt(now)))
	reset := wait
	if taken {
		reset = int(math.Ceil(float64(b.Burst()-left) / float64(b.Limit())))
	}
	h := x.Response().Header()
	h["Ratelimit-Policy"] = b.policy
	h["Ratelimit"] = []string{`"default";r=` + strconv.Itoa(left) + ";t=" + strconv.Itoa(reset)}
	if taken {
		return nil
	}
	h.Set("Retry-After", strconv.Itoa(wait))
	return fault(domain.Invalid, "too-many-requests", "", "the quota has "+strconv.Itoa(left)+" units left, the request costs "+strconv.Itoa(min(units, b.Burst())), "wait "+strconv.Itoa(wait)+" s, as Retry-After says")
}

// pace waits until the caller's quota has units: a stream is slowed down, not broken off.
func (x *exchange) pace(ctx context.Context, units int) error {
	if x.bucket == nil {
		return nil
	}
	return x.bucket.WaitN(ctx, min(units, x.bucket.Burst()))
}
