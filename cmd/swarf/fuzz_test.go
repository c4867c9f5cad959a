package main

import (
	"strings"
	"testing"
	"time"

	"swarf/db"
)

// FuzzParseConfig: whatever the environment holds, a setting is within its range, or a fault
// names it.
func FuzzParseConfig(f *testing.F) {
	for _, s := range settings() {
		f.Add(s.Name, s.Default)
		f.Add(s.Name, "NaN")
		f.Add(s.Name, "-1")
	}
	f.Add("SWARF_LISTEN", ":99999")
	f.Add("SWARF_LISTEN", "[::1]:0")
	f.Add("DATABASE_URL", "postgres://a:b c@[::1")
	f.Add("SWARF_TRACES_URL", "http://%zz")
	f.Add("SWARF_NONE", "")
	f.Fuzz(func(t *testing.T, name, value string) {
		c, err := parseConfig([]string{name + "=" + value})
		if err != nil {
			if !strings.Contains(err.Error(), "SWARF_") && !strings.Contains(err.Error(), "DATABASE_URL") {
				t.Fatalf("%s=%q: %v", name, value, err)
			}
			return
		}
		if !(c.TracesShare >= 0 && c.TracesShare <= 1) || c.DBMaxConns < 1 || c.AsOfKeep < 1 || c.JobSlice < 100*time.Millisecond || c.PollInterval < 100*time.Millisecond || c.ShutdownWait < 0 || c.ShutdownLimit < 0 {
			t.Fatalf("%s=%q is taken: %+v", name, value, c)
		}
	})
}

// FuzzParseAsOf: a revision or a time, never both, never neither.
func FuzzParseAsOf(f *testing.F) {
	for _, seed := range []string{"1", "-1", "+1", "0x1", "1_0", "2026-03-03T12:00:00Z", "2026-03-03T12:00:00.123456789+01:00", "", "now", "9223372036854775808"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		when, err := parseAsOf(text)
		switch {
		case err != nil && when != (db.AsOf{}), err == nil && (when.Revision == nil) == (when.Time == nil):
			t.Fatalf("%q: %+v, %v", text, when, err)
		case err == nil && when.Revision != nil && strings.Trim(text, "-0123456789") != "":
			t.Fatalf("%q is revision %d", text, *when.Revision)
		}
	})
}
