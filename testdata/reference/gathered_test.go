package reference_test

import (
	"encoding/csv"
	"os"
	"testing"

	"swarf/testdata/reference"
)

// Every example gathered as evidence is a check, or says why not; nothing is both.
func TestEveryGatheredExampleIsUsedOrExplained(t *testing.T) {
	checks, reasons := known(t)
	gathered := listed(t)
	if len(gathered) < 135 {
		t.Errorf("only %d examples are listed", len(gathered))
	}
	for id, title := range gathered {
		reason, unused := reasons[id]
		switch {
		case checks[id] && unused:
			t.Errorf("%s (%s) is a check and explained away as well", id, title)
		case !checks[id] && !unused:
			t.Errorf("%s (%s) is neither a check nor explained", id, title)
		case unused && len(reason) < 20:
			t.Errorf("%s (%s) is left out for no reason: %q", id, title, reason)
		}
	}
	for id := range reasons {
		if _, ok := gathered[id]; !ok {
			t.Errorf("%s is explained and was never gathered", id)
		}
	}
}

// An output that nothing of ours is held against says why, also in a check that is used.
func TestEveryOutputIsHeldOrExplained(t *testing.T) {
	for _, f := range load(t) {
		for _, c := range f.Checks {
			held := 0
			for _, o := range c.Outputs {
				if o.By != "" || o.Path != "" {
					held++
				} else if len(o.Unused) < 20 {
					t.Errorf("%s: %s is left out for no reason: %q", c.ID, o.Name, o.Unused)
				}
			}
			if held == 0 {
				t.Errorf("%s holds nothing", c.ID)
			}
		}
	}
}

// A printed figure names its source, what was seen of it and the convention it is asked by; one that
// ours differs from says why.
func TestPublishedChecksNameTheirSource(t *testing.T) {
	for _, f := range load(t) {
		for _, c := range f.Checks {
			if c.Standing == reference.Published && (c.Source == "" || c.Evidence == "" || c.Convention == "" && c.Standard == "") {
				t.Errorf("%s: source %q, evidence %q, convention %q", c.ID, c.Source, c.Evidence, c.Convention)
			}
			for _, o := range c.Outputs {
				if use := c.UseOf(&o); o.Unused == "" && (use == reference.Corrected || use == reference.Negative) && o.Note == "" && c.Note == "" {
					t.Errorf("%s: %s is %s and nothing says why", c.ID, o.Name, use)
				}
			}
		}
	}
}

func load(t *testing.T) []reference.File {
	t.Helper()
	files, err := reference.Load()
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// known are the ids of the checks, and the reasons of what is left out.
func known(t *testing.T) (checks map[string]bool, reasons map[string]string) {
	t.Helper()
	checks, reasons = make(map[string]bool), make(map[string]string)
	for _, f := range load(t) {
		for _, c := range f.Checks {
			checks[c.ID] = true
		}
	}
	rows, err := reference.LoadUnused()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows {
		reasons[r.ID] = r.Reason
	}
	return checks, reasons
}

// listed are the titles of gathered.csv by id.
func listed(t *testing.T) map[string]string {
	t.Helper()
	file, err := os.Open("gathered.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	titles := make(map[string]string)
	for _, row := range rows[1:] {
		if _, twice := titles[row[0]]; twice {
			t.Errorf("%s is listed twice", row[0])
		}
		titles[row[0]] = row[1]
	}
	return titles
}
