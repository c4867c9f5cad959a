package data

import (
	"strings"
	"testing"

	"swarf/domain/material"
)

// sourceIDs are the ids of the sources on file.
func sourceIDs(t *testing.T) map[string]bool {
	t.Helper()
	sources, err := loadSources()
	if err != nil {
		t.Fatal(err)
	}
	ids := map[string]bool{}
	for _, s := range sources {
		ids[s.ID] = true
	}
	return ids
}

// knownScopes are the scopes a record may have: grades on file, the subgroups of the
// vocabulary and the groups.
func knownScopes(t *testing.T) map[material.Scope]bool {
	t.Helper()
	grades, err := loadMaterials()
	if err != nil {
		t.Fatal(err)
	}
	known := map[material.Scope]bool{
		{Level: "group", Key: string(material.O)}:                 true,
		{Level: "subgroup", Key: string(material.O) + "/plastic"}: true,
	}
	for _, grade := range grades {
		known[material.Scope{Level: "material", Key: grade.ID}] = true
	}
	for group, subgroups := range subgroupsOf {
		known[material.Scope{Level: "group", Key: string(group)}] = true
		for _, subgroup := range subgroups {
			known[material.Scope{Level: "subgroup", Key: string(group) + "/" + subgroup}] = true
		}
	}
	return known
}

// classOperations are the operations of each class on file.
func classOperations(t *testing.T) map[string]map[string]bool {
	t.Helper()
	classes, err := loadClasses()
	if err != nil {
		t.Fatal(err)
	}
	does := map[string]map[string]bool{}
	for _, class := range classes {
		does[class.ID] = map[string]bool{}
		for _, operation := range class.Operations {
			does[class.ID][operation] = true
		}
	}
	return does
}

// widerScopes are, for the key of a scope, that key and those around it: a grade's
// subgroup and group, a subgroup's group.
func widerScopes(t *testing.T) map[string][]string {
	t.Helper()
	grades, err := loadMaterials()
	if err != nil {
		t.Fatal(err)
	}
	around := map[string][]string{}
	for scope := range knownScopes(t) {
		group, _, _ := strings.Cut(scope.Key, "/")
		around[scope.Key] = []string{scope.Key, group}
	}
	for _, grade := range grades {
		around[grade.ID] = []string{grade.ID, string(grade.Group) + "/" + grade.Subgroup, string(grade.Group)}
	}
	return around
}

// TestLife checks the tool-life records: sources and scopes on file, ids of their own,
// and lives that a shop would recognise at the speed for an hour.
func TestLife(t *testing.T) {
	records, err := loadLife()
	if err != nil {
		t.Fatal(err)
	}
	known, sources, seen := knownScopes(t), sourceIDs(t), map[string]bool{}
	for _, r := range records {
		if seen[r.ID] || !sources[r.Source] || !known[r.Scope] || r.Place == "" {
			t.Errorf("%s: source %s, scope %v, place %q", r.ID, r.Source, r.Scope, r.Place)
		}
		seen[r.ID] = true
		if r.TaylorExp.V > 0.6 {
			t.Errorf("%s: n %v is break-in wear", r.ID, r.TaylorExp.V)
		}
	}
	if len(records) != 18 {
		t.Errorf("%d records, want 18", len(records))
	}
}
