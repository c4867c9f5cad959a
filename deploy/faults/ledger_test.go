//go:build faults

package faults

import (
	"maps"
	"testing"
)

// A ledger finds each fault that is planted, and none where there is none.
func TestLedgerFindsWhatIsPlanted(t *testing.T) {
	written := func() *ledger {
		l := newLedger()
		l.write("machine", "kept", "1")(acked)
		l.write("machine", "open", "1")(unknown)
		l.write("machine", "no", "1")(refused)
		l.write("machine", "twice", "1")(acked)
		l.write("machine", "twice", "2")(acked)
		l.write("machine", "turned", "1")(acked)
		l.write("machine", "turned", "2")(unknown)
		return l
	}
	sound := []row{{"kept", "1"}, {"twice", "2"}, {"turned", "1"}}
	for name, c := range map[string]struct {
		found []row
		want  map[string]string
	}{
		"nothing wrong":                {sound, nil},
		"what had no answer is there":  {append([]row{{"open", "1"}}, sound...), nil},
		"or the later of two":          {[]row{{"kept", "1"}, {"twice", "2"}, {"turned", "2"}}, nil},
		"an acknowledged one missing":  {sound[1:], map[string]string{"kept": missing}},
		"one twice":                    {append([]row{{"kept", "1"}}, sound...), map[string]string{"kept": doubled}},
		"half of what had no answer":   {append([]row{{"open", "0"}}, sound...), map[string]string{"open": another}},
		"a refused one":                {append([]row{{"no", "1"}}, sound...), map[string]string{"no": phantom}},
		"one from nowhere":             {append([]row{{"who", "1"}}, sound...), map[string]string{"who": unasked}},
		"an acknowledged one undone":   {[]row{{"kept", "1"}, {"twice", "1"}, {"turned", "1"}}, map[string]string{"twice": another}},
		"something else in its place":  {[]row{{"kept", "9"}, {"twice", "2"}, {"turned", "1"}}, map[string]string{"kept": another}},
		"all of it gone with the disk": {nil, map[string]string{"kept": missing, "twice": missing, "turned": missing}},
	} {
		if got := written().compare("machine", c.found); !maps.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// A phase fails a test that saw a fault, or too little.
func TestPhaseCounts(t *testing.T) {
	p := newPhase()
	p.took = 4e9
	for range 100 {
		p.sent++
		p.good++
		p.times = append(p.times, 1e6)
	}
	p.times[7] = 5e9
	for name, c := range map[string]struct {
		change func(*phase)
		fails  bool
	}{
		"as it should be": {func(*phase) {}, false},
		"one bad answer":  {func(p *phase) { p.bad["503"] = 1 }, true},
		"too few":         {func(p *phase) { p.sent = 99 }, true},
	} {
		one := *p
		one.bad = map[string]int{}
		c.change(&one)
		said := &heard{TB: t}
		one.hold(said, name, 100)
		if said.failed != c.fails {
			t.Errorf("%s: fails %v, want %v", name, said.failed, c.fails)
		}
	}
	if p.at(0.5) != 1e6 || p.at(0.999) != 5e9 {
		t.Errorf("quantiles %v %v", p.at(0.5), p.at(0.999))
	}
}

// heard is a test that only notes whether it was failed.
type heard struct {
	testing.TB
	failed bool
}

func (h *heard) Errorf(string, ...any) { h.failed = true }
func (h *heard) Logf(string, ...any)   {}
