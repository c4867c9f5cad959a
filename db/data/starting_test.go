package data

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"testing"

	"swarf/domain"
	"swarf/domain/material"
)

// subgroupsOf are the subgroups of the vocabulary by group.
var subgroupsOf = map[material.Group][]string{
	material.P: {"free-cutting", "carbon", "alloy", "tool", "stainless-ferritic", "stainless-martensitic",
		"precipitation-hardening", "cast-steel", "high-manganese"},
	material.M: {"austenitic", "duplex"},
	material.K: {"grey-iron", "ductile-iron", "malleable-iron", "compacted-iron", "chilled-iron"},
	material.N: {"aluminium", "aluminium-cast", "magnesium", "copper", "brass", "bronze", "zinc"},
	material.S: {"titanium", "nickel", "cobalt", "iron-base", "zirconium", "refractory"},
	material.H: {"hardened-steel", "hardened-iron"},
}

// cells are the operations that this version computes, with the classes that do them.
var cells = map[string][]string{
	"drilling": {"drill-twist-hss", "drill-solid-carbide", "drill-exchangeable-tip", "drill-flat-bottom",
		"drill-indexable", "drill-gun"},
	"face-milling":    {"mill-end", "mill-face", "mill-high-feed"},
	"side-milling":    {"mill-end", "mill-face"},
	"slot-milling":    {"mill-end", "mill-face", "mill-high-feed"},
	"turning":         {"turning-external"},
	"facing":          {"turning-external", "turning-internal"},
	"boring-internal": {"turning-internal"},
}

func startingRecords(t *testing.T) []material.Starting {
	t.Helper()
	records, err := loadStarting()
	if err != nil {
		t.Fatal(err)
	}
	return records
}

// complete reports a record from which speed and feed can both be taken.
func complete(s *material.Starting) bool { return closed(s.Speed) && closed(s.Feed) }

// serves reports whether a record is for an operation done with a class in that
// class's own substrate.
func serves(s *material.Starting, operation, class, substrate string) bool {
	return slices.Contains(s.Operations, operation) &&
		(len(s.Classes) == 0 || slices.Contains(s.Classes, class)) &&
		(s.ToolMaterial == "" || s.ToolMaterial == substrate)
}

// TestStartingCells checks that every cell of operation, class and group, and every
// subgroup below it, has a complete record to start from.
func TestStartingCells(t *testing.T) {
	records := startingRecords(t)
	classes, err := loadClasses()
	if err != nil {
		t.Fatal(err)
	}
	substrate := map[string]string{}
	for i := range classes {
		substrate[classes[i].ID] = classes[i].ToolMaterial
	}
	filled := func(operation, class string, keys ...string) bool {
		return slices.ContainsFunc(records, func(s material.Starting) bool {
			return slices.Contains(keys, s.Key) && complete(&s) && serves(&s, operation, class, substrate[class])
		})
	}
	for operation, names := range cells {
		for _, class := range names {
			for group, subgroups := range subgroupsOf {
				if !filled(operation, class, string(group)) {
					t.Errorf("%s with %s in group %s: no record", operation, class, group)
				}
				for _, subgroup := range subgroups {
					if !filled(operation, class, string(group), string(group)+"/"+subgroup) {
						t.Errorf("%s with %s in %s: no record", operation, class, subgroup)
					}
				}
			}
		}
	}
}

// TestStartingFiles checks that no file has a word of the transcriptions that does not
// ship, nor an address.
func TestStartingFiles(t *testing.T) {
	names, err := fs.Glob(files, "starting/*.csv")
	if err != nil || len(names) < 16 {
		t.Fatalf("%d files, %v", len(names), err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(files, name)
		if err != nil {
			t.Fatal(err)
		}
		for _, word := range []string{"do not ship", "2nd reading", "www.", "http"} {
			if strings.Contains(string(text), word) {
				t.Errorf("%s has %q in it", name, word)
			}
		}
	}
}

// TestStartingProvenance checks that every record has an id of its own, a source on
// file and a basis that the source can carry, and is about something that exists.
func TestStartingProvenance(t *testing.T) {
	records := startingRecords(t)
	known := knownScopes(t)
	sources := sourceIDs(t)
	does := classOperations(t)
	seen := map[string]bool{}
	for i := range records {
		s := &records[i]
		if seen[s.ID] {
			t.Errorf("%s stands twice", s.ID)
		}
		seen[s.ID] = true
		if !sources[s.Source] {
			t.Errorf("%s: no source %s", s.ID, s.Source)
		}
		if s.Place == "" || (s.Basis == domain.CommonPractice) != (s.Source == "common-practice") {
			t.Errorf("%s: basis %s, source %s, place %q", s.ID, s.Basis, s.Source, s.Place)
		}
		if !known[s.Scope] {
			t.Errorf("%s is about %s %s, which is not on file", s.ID, s.Level, s.Key)
		}
		for _, class := range s.Classes {
			if !slices.ContainsFunc(s.Operations, func(o string) bool { return does[class][o] }) {
				t.Errorf("%s: class %s does none of %v", s.ID, class, s.Operations)
			}
		}
	}
}

// TestStartingUnfit checks what must never ship: rows marked as unfit in the
// transcriptions. What burns or rubs is looked for in all data (domain/smell).
func TestStartingUnfit(t *testing.T) {
	for _, s := range startingRecords(t) {
		where := fmt.Sprintf("%s (%s)", s.ID, s.Key)
		switch {
		case s.Source == "mtsf-doc" && (slices.Contains(s.Operations, "turning") || strings.HasPrefix(s.Key, "S")):
			t.Errorf("%s: turning speeds and titanium of that sheet do not ship", where)
		case s.Source == "carvill-mfg" && s.Key == "K/malleable-iron":
			t.Errorf("%s: the garbled white-heart row does not ship", where)
		case s.Source == "groover" && strings.HasPrefix(s.ToolMaterial, "B"):
			t.Errorf("%s: boron nitride speeds for steel in general do not ship", where)
		}
	}
}

// TestStartingIncomplete checks that a speed without a feed never stands alone: where
// one is on file for a substrate of the default kind, so is a complete record of the
// same scope or of the subgroup or group around it.
func TestStartingIncomplete(t *testing.T) {
	records := startingRecords(t)
	does := classOperations(t)
	around := widerScopes(t)
	for i := range records {
		s := &records[i]
		if complete(s) || slices.Contains(s.Operations, "tapping") || s.ToolMaterial != "HC" && s.ToolMaterial != "HSS" {
			continue
		}
		for _, operation := range s.Operations {
			for _, class := range s.Classes {
				if does[class][operation] && !slices.ContainsFunc(records, func(o material.Starting) bool {
					return slices.Contains(around[s.Key], o.Key) && complete(&o) && serves(&o, operation, class, s.ToolMaterial)
				}) {
					t.Errorf("%s: %s with %s in %s has a speed and nowhere a feed", s.ID, operation, class, s.Key)
				}
			}
		}
	}
}
