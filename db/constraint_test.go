package db_test

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain"
	"swarf/domain/access"
	"swarf/domain/catalog"
	"swarf/domain/evidence"
	"swarf/domain/material"
)

// unguarded is a database with a row in every table and only the rules of the
// columns at work: the triggers, which refuse some writes before, are switched off.
func unguarded(t *testing.T) *db.DB {
	t.Helper()
	store := dbtest.New(t)
	load(t, store, fixture(), us)
	draft(t, store, trial("kc-shop", 2000, material.Curation{}), "ann")
	if _, _, err := store.PutCut(t.Context(), catalog.StoredCut{ID: "op-10", Request: []byte("{}")}, db.Write{Who: "ann"}, nil); err != nil {
		t.Fatal(err)
	}
	if _, err := store.AddObservations(t.Context(), []evidence.Kept{{Who: "ann", Kind: "edge", Document: []byte("{}")}}); err != nil {
		t.Fatal(err)
	}
	bring(t, store, db.Import{Sources: []domain.Source{{ID: "own", Title: "Own", Kind: "shop record"}}}, "ann")
	job, err := store.CreateJob(t.Context(), db.Job{Route: "/v1/estimates/batch", Units: "metric", Body: []byte("{}\n{}\n"), Items: 2, Who: "ann", Revision: 1})
	if err != nil {
		t.Fatal(err)
	}
	if err := store.Exec(t.Context(), fmt.Sprintf(`INSERT INTO job_part VALUES (%d, 0, '')`, job.ID)); err != nil {
		t.Fatal(err)
	}
	key := access.Key{ID: "aaaaaaaa", Name: "MES", Scopes: access.Read, Secrets: []access.Secret{{MadeUnix: 1}}}
	if err := store.AddKey(t.Context(), key, db.Write{Who: "ann"}); err != nil {
		t.Fatal(err)
	}
	if _, _, err := store.Once(t.Context(), db.Claim{Key: "k", Keep: time.Hour}, func(context.Context) (db.Answer, error) {
		return db.Answer{Status: 204, Header: map[string]string{}}, nil
	}); err != nil {
		t.Fatal(err)
	}
	for _, table := range query[string](t, store, `SELECT relname FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace`) {
		if err := store.Exec(t.Context(), `ALTER TABLE `+table+` DISABLE TRIGGER USER`); err != nil {
			t.Fatal(err)
		}
	}
	return store
}

// query reads one column.
func query[T any](t *testing.T, store *db.DB, text string) []T {
	t.Helper()
	result, err := store.Pool().Query(t.Context(), text)
	if err != nil {
		t.Fatal(err)
	}
	list, err := pgx.CollectRows(result, pgx.RowTo[T])
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// refusedBy runs an update and gives the CHECK that refused it, "" for none.
func refusedBy(t *testing.T, store *db.DB, table, set string) string {
	t.Helper()
	err := store.Exec(t.Context(), `UPDATE `+table+` SET `+set)
	var refused *pgconn.PgError
	if errors.As(err, &refused) && refused.Code == "23514" {
		return refused.TableName + "." + refused.ConstraintName
	}
	if err != nil {
		t.Errorf("UPDATE %s SET %s: %v", table, set, err)
	}
	return ""
}

// Every CHECK of the schema refuses what it is there to refuse.
func TestEveryCheckRefuses(t *testing.T) {
	store := unguarded(t)
	there := query[string](t, store, `SELECT conrelid::regclass || '.' || conname FROM pg_constraint
		WHERE contype = 'c' AND connamespace = 'public'::regnamespace`)
	slices.Sort(there)
	if diff := cmp.Diff(there, slices.Sorted(maps.Keys(violations))); diff != "" {
		t.Errorf("the schema's checks and those tried here differ (-schema +tried):\n%s", diff)
	}
	for check, sets := range violations {
		table, _, _ := strings.Cut(check, ".")
		for _, set := range sets {
			if by := refusedBy(t, store, table, set); by != check {
				t.Errorf("UPDATE %s SET %s: refused by %q, want %s", table, set, by, check)
			}
		}
	}
}

// No column takes a number that is none, whatever stands beside it.
func TestNumbersAreFinite(t *testing.T) {
	store := unguarded(t)
	columns := query[string](t, store, `SELECT table_name || '.' || column_name FROM information_schema.columns
		WHERE table_schema = 'public' AND data_type IN ('double precision', 'real', 'numeric')`)
	if len(columns) < 40 {
		t.Fatalf("only %d columns with numbers", len(columns))
	}
	for _, column := range columns {
		table, name, _ := strings.Cut(column, ".")
		for _, value := range []string{"NaN", "Infinity", "-Infinity"} {
			set := fmt.Sprintf("%s = '%s'", name, value)
			for _, pair := range [][2]string{{"low", "high"}, {"high", "low"}, {"low", "default"}, {"high", "default"}} {
				other := strings.Replace(name, pair[0], pair[1], 1)
				if other != name && slices.Contains(columns, table+"."+other) {
					set += ", " + other + " = NULL" // else the pair's order would refuse it
				}
			}
			if refusedBy(t, store, table, set) == "" {
				t.Errorf("UPDATE %s SET %s is taken", table, set)
			}
		}
	}
}

// The least that a rule allows is taken.
func TestChecksAllowTheirLimits(t *testing.T) {
	store := unguarded(t)
	for set, table := range map[string]string{
		"efficiency_ratio = 1, idle_power_kw = 0, through_tool_pressure_bar = 0, tool_change_seconds = 0":                      "machine",
		"max_feed_force_n = NULL, max_feed_rate_mm_per_min = NULL, coolant_deliveries = NULL, meter = NULL":                    "machine",
		"work_holding = NULL, synchronous_tapping = NULL, acceleration_m_per_s2 = NULL, rapid_rate_mm_per_min = NULL":          "machine",
		"chip_thickness_exp = 0, valid_chip_thickness_low_mm = 0, valid_speed_low_m_per_min = 0, valid_hardness_low_hbw = 140": "force_record",
		"valid_hardness_low_hbw = valid_hardness_high_hbw, valid_speed_low_m_per_min = valid_speed_high_m_per_min":             "force_record",
		"taylor_exp = 1.99, taylor_speed_m_per_min = 1e-300":                                                                   "life_record",
		"speed_low_m_per_min = 0, depth_mm = 1e-300":                                                                           "starting_record",
		"low_value = default_value, high_value = default_value":                                                                "tool_property",
		"hardness_low = NULL, hardness_high = NULL, hardness_scale = ''":                                                       "material_condition",
		"subgroup = '', note = '', cautions = '{}'":                                                                            "material",
	} {
		if by := refusedBy(t, store, table, set); by != "" {
			t.Errorf("UPDATE %s SET %s is refused by %s", table, set, by)
		}
	}
}

// References hold in both directions, and what must be there is.
func TestReferencesHold(t *testing.T) {
	store := dbtest.New(t)
	load(t, store, fixture(), us)
	for statement, code := range map[string]string{
		"UPDATE force_record SET source_id = 'nobody'":                                    "23503",
		"UPDATE force_record SET scope_key = 'nothing' WHERE scope_level = 'material'":    "23503",
		"UPDATE starting_record SET scope_key = 'nothing' WHERE scope_level = 'material'": "23503",
		"UPDATE life_record SET source_id = 'nobody'":                                     "23503",
		"UPDATE material_condition SET source_id = 'nobody'":                              "23503",
		"UPDATE physical_property SET source_id = 'nobody'":                               "23503",
		"UPDATE hardness_row SET source_id = 'nobody'":                                    "23503",
		"DELETE FROM source WHERE id = 'a-book'":                                          "23503",
		"DELETE FROM material WHERE id = 'a-steel'":                                       "23503",
		"DELETE FROM tool_class":                                                          "23503",
		"UPDATE force_record SET source_id = NULL":                                        "23502",
		"UPDATE starting_record SET basis = NULL":                                         "23502",
		"UPDATE life_record SET source_id = NULL":                                         "23502",
		"UPDATE machine SET basis = NULL":                                                 "23502",
		"UPDATE designation SET position = 1":                                             "23505",
		"UPDATE tool_property SET position = 1":                                           "23505",
		"UPDATE material_condition SET position = 1":                                      "23505",
		"INSERT INTO source SELECT * FROM source":                                         "23505",
	} {
		var refused *pgconn.PgError
		if err := store.Exec(t.Context(), statement); !errors.As(err, &refused) || refused.Code != code {
			t.Errorf("%s: %v, want the state %s", statement, err, code)
		}
	}
	if now, err := store.Revision(t.Context()); err != nil || now != 1 {
		t.Errorf("refused statements left revision %d, %v", now, err)
	}
}
