package main

import (
	"log/slog"
	"strings"
	"testing"
	"time"
)

func TestLogHoldsAndReleases(t *testing.T) {
	var out screen
	log, flush := newLog(&out, slog.LevelInfo)
	log.Debug("unseen")
	log.With("id", 7).Info("first")
	if out.String() != "" {
		t.Errorf("written at once: %s", out.String())
	}
	log.WithGroup("g").Warn("second", "a", 1)
	if got := out.String(); strings.Count(got, "\n") != 2 || !strings.Contains(got, "msg=first id=7") || !strings.Contains(got, "msg=second g.a=1") {
		t.Errorf("a warning did not bring both lines out:\n%s", got)
	}
	log.Info("third")
	eventually(t, "a line comes out by itself", func() bool { return strings.Contains(out.String(), "third") })
	log.Info("fourth")
	flush()
	if !strings.Contains(out.String(), "fourth") || strings.Contains(out.String(), "unseen") {
		t.Errorf("after a flush:\n%s", out.String())
	}
	before := len(out.String())
	for range holdMost / 50 {
		log.Info(strings.Repeat("x", 50))
	}
	if len(out.String()) == before {
		t.Error("the holder grows without end")
	}
	time.Sleep(2 * holdFor)
	flush()
	if got := strings.Count(out.String(), "\n"); got != 4+holdMost/50 {
		t.Errorf("%d lines, want %d", got, 4+holdMost/50)
	}
}
