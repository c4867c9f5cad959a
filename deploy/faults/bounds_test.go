//go:build faults

package faults

import (
	"fmt"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"
)

// Bodies that are held are bounded together: who comes when there is no more memory for them
// is turned away, single cuts are not, and all of it is given back.
func TestMemoryForBodiesIsBounded(t *testing.T) {
	begin(t)
	s := serve(t, "SWARF_WORK_MEMORY=160")
	s.ready()
	pid, cut := s.process.Process.Pid, questions()[4]
	const many, each, budget = 24, 15 << 20, 160 << 20
	part := request(http.MethodPost, "/v1/estimates/batch", "", "Content-Type: application/json", fmt.Sprintf("Content-Length: %d", each+1))
	part = append(part, `{"units":"metric","items":[`+strings.Repeat(" ", each-100)...)
	var all sync.WaitGroup
	var mu sync.Mutex
	var lines []*line
	turned := 0
	most := mostResident(pid, func() {
		for range many {
			all.Go(func() {
				l, err := dial(s.address())
				if err != nil {
					t.Error(err)
					return
				}
				l.conn.Write(part)
				l.conn.SetDeadline(time.Now().Add(2 * time.Second))
				r, err := l.receive(time.Now())
				mu.Lock()
				defer mu.Unlock()
				lines = append(lines, l)
				if err == nil {
					f := flood{bad: map[string]int{}}
					f.note(r, nil)
					turned += len(f.turned)
					for fault := range f.bad {
						t.Error(fault)
					}
				}
			})
		}
		all.Wait()
	})
	held := s.metric(t, "swarf_held_bytes")
	a, err := ask(cut.method, s.address()+cut.path, cut.body)
	if err != nil || a.status != http.StatusOK {
		t.Errorf("a single cut meanwhile: %d %v %s", a.status, err, a.body)
	}
	t.Logf("%d bodies of %d MiB at a time: %d turned away, %.0f MiB held, %d MiB in memory at most", many, each>>20, turned, held/(1<<20), most>>20)
	if least := many - budget/each - 1; turned < least || held > budget || held < budget/2 {
		t.Errorf("%d were turned away, at least %d are too many; %.0f bytes are held", turned, least, held)
	}
	if most > 3*budget {
		t.Errorf("%d MiB in memory, with a budget of %d", most>>20, budget>>20)
	}
	for _, l := range lines {
		l.conn.Close()
	}
	eventually(t, "nothing is held", func() bool { return s.metric(t, "swarf_held_bytes") == 0 })
}

// Every time-out of a connection holds.
func TestTimeouts(t *testing.T) {
	begin(t)
	s := serve(t)
	s.ready()
	rows := []struct {
		name, sent string
		after      time.Duration
		answer     string
		long       bool // only there: it takes long
	}{
		{"nothing is sent", "", 5 * time.Second, "", false},
		{"a header that does not end", "GET /version HTTP/1.1\r\nHost: a", 5 * time.Second, "", false},
		{"a body that does not end", "POST /v1/estimates HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\nContent-Length: 9\r\n\r\n{", 30 * time.Second, "HTTP/1.1 400 ", true},
		{"a connection that is not used", "GET /version HTTP/1.1\r\nHost: a\r\n\r\n", 120 * time.Second, "HTTP/1.1 200 ", true},
	}
	var all sync.WaitGroup
	for _, row := range rows {
		if row.long && !long() {
			continue
		}
		all.Go(func() {
			conn, err := net.Dial("tcp", strings.TrimPrefix(s.address(), "http://"))
			if err != nil {
				t.Error(err)
				return
			}
			defer conn.Close()
			conn.Write([]byte(row.sent))
			began := time.Now()
			conn.SetReadDeadline(began.Add(row.after + 10*time.Second))
			var got []byte
			for room := make([]byte, 4<<10); err == nil; {
				var n int
				n, err = conn.Read(room)
				got = append(got, room[:n]...)
			}
			took := time.Since(began)
			t.Logf("%s: ended after %.1f s", row.name, took.Seconds())
			if took < row.after-time.Second || took > row.after+5*time.Second || !strings.HasPrefix(string(got), row.answer) {
				t.Errorf("%s: ended after %v with %.200q, want %v", row.name, took, got, row.after)
			}
		})
	}
	all.Wait()
}
