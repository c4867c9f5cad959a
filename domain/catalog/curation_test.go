package catalog_test

import (
	"testing"

	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// curatedData is one grade with a book's record and a shop's own beside it.
func curatedData(life *material.Curation) catalog.Data {
	scope := material.Scope{Level: "material", Key: "a-steel"}
	record := func(id string, basis domain.Basis, kc float64, c *material.Curation) material.Force {
		return material.Force{Provenance: material.Provenance{ID: id, Basis: basis, Source: "a-book", Place: "p. 1", Curation: c}, Scope: scope, Process: "turning", Method: material.Kienzle,
			SpecificCuttingForce11NPerMM2: unit.Some(kc), ChipThicknessExp: unit.Some(0.25)}
	}
	return catalog.Data{Revision: 1,
		Sources:   []domain.Source{{ID: "a-book", Title: "A book", Kind: "textbook"}},
		Materials: []material.Material{{ID: "a-steel", Name: "A steel", Group: material.P, Subgroup: "carbon"}},
		Force:     []material.Force{record("kc-book", domain.Published, 1700, nil), record("kc-shop", domain.Shop, 2000, life)},
	}
}

// A draft serves nobody, an approved record does, one withdrawn for safety lets the next
// serve only with its name on it, until another takes its place.
func TestOnlyApprovedRecordsServe(t *testing.T) {
	for _, row := range []struct {
		name              string
		life              material.Curation
		served, withdrawn string
	}{
		{"draft", material.Curation{State: material.Draft}, "kc-book", ""},
		{"waiting", material.Curation{State: material.Approved}, "kc-book", ""},
		{"in force", material.Curation{State: material.Approved, InForce: true}, "kc-shop", ""},
		{"withdrawn", material.Curation{State: material.Withdrawn}, "kc-book", ""},
		{"withdrawn for safety", material.Curation{State: material.Withdrawn, Safety: true}, "kc-book", "kc-shop"},
		{"replaced", material.Curation{State: material.Withdrawn, Safety: true, SupersededBy: "kc-new"}, "kc-book", ""},
	} {
		snap, err := catalog.New(curatedData(&row.life))
		if err != nil {
			t.Fatal(err)
		}
		grade, _ := snap.Material("a-steel")
		choice := snap.ChooseForce(catalog.ForceQuery{Grade: grade, Process: "turning"})
		withdrawn := ""
		if choice.Withdrawn != nil {
			withdrawn = choice.Withdrawn.ID
		}
		if choice.Served.ID != row.served || withdrawn != row.withdrawn {
			t.Errorf("%s: %s serves, %q is withdrawn", row.name, choice.Served.ID, withdrawn)
		}
		if r, ok := snap.Record("kc-shop"); !ok || r.State() != row.life.State {
			t.Errorf("%s: the record is not on file", row.name)
		}
		if shown := len(grade.Force); shown != 1 && row.name != "in force" || row.name == "in force" && shown != 2 {
			t.Errorf("%s: the grade shows %d records", row.name, shown)
		}
	}
}

// The floor's clock: what was valid at a time, by what is known now. What is tried out
// leaves the data as it was.
func TestValidAtAndTrials(t *testing.T) {
	life := &material.Curation{State: material.Withdrawn, Safety: true, ValidFrom: "2026-02-01T00:00:00Z", ValidTo: "2026-05-01T00:00:00Z"}
	d := curatedData(life)
	serves := func(d catalog.Data) (string, bool) {
		snap, err := catalog.New(d)
		if err != nil {
			t.Fatal(err)
		}
		grade, _ := snap.Material("a-steel")
		choice := snap.ChooseForce(catalog.ForceQuery{Grade: grade, Process: "turning"})
		return choice.Served.ID, choice.Withdrawn != nil
	}
	for at, want := range map[string]string{"2026-01-31T23:59:59Z": "kc-book", "2026-02-01T00:00:00Z": "kc-shop", "2026-04-30T23:59:59Z": "kc-shop", "2026-05-01T00:00:00Z": "kc-book"} {
		got, withdrawn := serves(d.ValidAt(at))
		if got != want || withdrawn != (at >= life.ValidTo) {
			t.Errorf("at %s %s serves (withdrawn %v)", at, got, withdrawn)
		}
	}
	if got, _ := serves(curatedData(&material.Curation{State: material.Draft, Supersedes: "kc-book"}).Approved("kc-shop")); got != "kc-shop" {
		t.Errorf("approved, %s serves", got)
	}
	in := curatedData(&material.Curation{State: material.Approved, InForce: true})
	if got, _ := serves(in.Without("kc-shop")); got != "kc-book" {
		t.Errorf("without it, %s serves", got)
	}
	if got, _ := serves(in); got != "kc-shop" {
		t.Errorf("the trial changed the data: %s serves", got)
	}
}
