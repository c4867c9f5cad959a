package db

import (
	"context"
	"errors"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"swarf/domain"
)

// The newest timeline that was seen is the only one that is let through, and each change of
// server counts.
func TestFence(t *testing.T) {
	f := new(fence)
	for _, step := range []struct {
		name     string
		is       server
		refused  bool
		switches int64
	}{
		{"a standby says nothing", server{system: 7}, false, 0},
		{"the first", server{7, 1}, false, 0},
		{"the same", server{7, 1}, false, 0},
		{"its standby, promoted", server{7, 2}, false, 1},
		{"the deposed one", server{7, 1}, true, 1},
		{"a standby again", server{7, 0}, false, 1},
		{"the successor", server{7, 2}, false, 1},
		{"another cluster, restored from a copy", server{8, 1}, false, 2},
	} {
		err := f.pass(step.is)
		var fault *domain.Error
		if step.refused != (errors.As(err, &fault) && fault.Kind == domain.Unavailable) || f.switches != step.switches {
			t.Errorf("%s: %v, %d switches, want %d", step.name, err, f.switches, step.switches)
		}
	}
}

// While the server is lost nobody waits for it, and whoever waited is told why.
func TestPulse(t *testing.T) {
	p := newPulse()
	fault := &domain.Error{Kind: domain.Unavailable, Code: notReady, Msg: "gone"}
	waiting, done, err := p.busy(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	back := p.returned()
	if !p.set(fault) || p.set(fault) {
		t.Error("the loss is told not once")
	}
	select {
	case <-waiting.Done():
	case <-time.After(10 * time.Second):
		t.Fatal("who waits is not told")
	}
	var told *domain.Error
	if err := cut(waiting, waiting.Err()); !errors.As(err, &told) || told.Msg != brokeOff || !errors.Is(err, error(fault)) {
		t.Errorf("the error is %v", err)
	}
	if err := cut(t.Context(), context.Canceled); err != context.Canceled {
		t.Errorf("an end of its own is told as %v", err)
	}
	done()
	if _, _, err := p.busy(t.Context()); err != fault {
		t.Errorf("the next gets %v", err)
	}
	select {
	case <-back:
		t.Fatal("it is said to be back")
	default:
	}
	p.set(nil)
	<-back
	if _, done, err = p.with(t.Context()); err != nil {
		t.Fatal(err)
	}
	done()
	if n := p.underWay.Load(); n != 0 {
		t.Errorf("%d are under way", n)
	}
}

// Only the server's own no to a commit says that nothing was kept.
func TestUndone(t *testing.T) {
	for _, c := range []struct {
		err  error
		want bool
	}{
		{pgx.ErrTxCommitRollback, true},
		{&pgconn.PgError{SeverityUnlocalized: "ERROR", Code: "40001"}, true},
		{&pgconn.PgError{SeverityUnlocalized: "FATAL", Code: "57P01"}, false},
		{context.DeadlineExceeded, false},
		{errors.New("connection reset by peer"), false},
	} {
		if got := undone(c.err); got != c.want {
			t.Errorf("%v: %v, want %v", c.err, got, c.want)
		}
	}
}
