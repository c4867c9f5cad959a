package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"time"
)

// message is one object of govulncheck's stream (golang.org/x/vuln/internal/govulncheck).
type message struct {
	Config *struct {
		GoVersion string `json:"go_version"`
		ScanLevel string `json:"scan_level"`
	} `json:"config"`
	OSV *struct {
		ID      string `json:"id"`
		Summary string `json:"summary"`
	} `json:"osv"`
	Finding *struct {
		OSV   string `json:"osv"`
		Fixed string `json:"fixed_version"`
		Trace []struct {
			Module   string `json:"module"`
			Version  string `json:"version"`
			Function string `json:"function"`
		} `json:"trace"`
	} `json:"finding"`
}

// scan is what govulncheck found.
type scan struct {
	Go    string
	Found map[string]finding // by advisory
}

// finding is an advisory about a module of the build.
type finding struct {
	ID, Summary, Module, Version, Fixed string
	Called                              bool // by what swarf does, not only imported or required
}

// readScan reads the stream. One without a configuration, or that looked at no calls, is no
// scan.
func readScan(from io.Reader) (*scan, error) {
	out := &scan{Found: map[string]finding{}}
	summaries := map[string]string{}
	level := ""
	for in := json.NewDecoder(from); ; {
		var m message
		if err := in.Decode(&m); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, fmt.Errorf("this is not what govulncheck -format json writes: %w", err)
		}
		if c := m.Config; c != nil {
			out.Go, level = c.GoVersion, c.ScanLevel
		}
		if m.OSV != nil {
			summaries[m.OSV.ID] = m.OSV.Summary
		}
		if f := m.Finding; f != nil && len(f.Trace) > 0 {
			at := f.Trace[0]
			known := out.Found[f.OSV]
			out.Found[f.OSV] = finding{f.OSV, summaries[f.OSV], at.Module, at.Version, f.Fixed, known.Called || at.Function != ""}
		}
	}
	if level != "symbol" {
		return nil, errors.New("nothing was scanned, or not down to calls; see what govulncheck said")
	}
	return out, nil
}

// judge tells what was found. Its error says what does not pass.
func judge(to io.Writer, s *scan, exceptions []Exception, now time.Time) error {
	fmt.Fprintf(to, "swarf as %s builds it\n", s.Go)
	var faults []error
	excepted := map[string]Exception{}
	for _, e := range exceptions {
		excepted[e.ID] = e
		switch f, there := s.Found[e.ID]; {
		case e.Past(now):
			faults = append(faults, fmt.Errorf("the exception for %s ended on %s: look at it again", e.ID, e.Until.Format(time.DateOnly)))
		case !there || !f.Called:
			faults = append(faults, fmt.Errorf("the exception for %s is for nothing any more: take it out", e.ID))
		case f.Module != e.Module:
			faults = append(faults, fmt.Errorf("the exception for %s is for %s, found in %s", e.ID, e.Module, f.Module))
		}
	}
	quiet := 0
	for _, id := range slices.Sorted(maps.Keys(s.Found)) {
		f := s.Found[id]
		e, ok := excepted[id]
		switch {
		case !f.Called:
			quiet++
		case ok:
			fmt.Fprintf(to, "excepted %s in %s %s until %s: %s (%s)\n", id, f.Module, f.Version, e.Until.Format(time.DateOnly), e.Why, e.HeldBy)
		default:
			mend := "no version mends it"
			if f.Fixed != "" {
				mend = "mended in " + f.Fixed
			}
			faults = append(faults, fmt.Errorf("%s in %s %s, %s: %s", id, f.Module, f.Version, mend, f.Summary))
		}
	}
	fmt.Fprintf(to, "%d more in modules of the build that swarf does not call\n", quiet)
	return errors.Join(faults...)
}
