package db_test

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/jackc/pgx/v5"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/migrations"
)

var (
	comment = regexp.MustCompile(`(?m)--.*$`)
	alone   = regexp.MustCompile(`(?i)\b(CONCURRENTLY|BEGIN|START\s+TRANSACTION|COMMIT|ROLLBACK|VACUUM|ALTER\s+SYSTEM|CREATE\s+DATABASE)\b\s*;`)
)

// objects lists everything that a migrated database has beyond an empty one.
const objects = `
	SELECT 'relation ' || relname FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relname NOT LIKE 'schema_migrations%'
	UNION ALL SELECT 'column ' || table_name || '.' || column_name FROM information_schema.columns
		WHERE table_schema = 'public' AND table_name NOT LIKE 'schema_migrations%'
	UNION ALL SELECT 'function ' || proname FROM pg_proc WHERE pronamespace = 'public'::regnamespace
	UNION ALL SELECT 'type ' || typname FROM pg_type WHERE typnamespace = 'public'::regnamespace AND typname NOT LIKE '%schema_migrations'
	ORDER BY 1`

func objectsOf(t *testing.T, store *db.DB) []string {
	t.Helper()
	result, err := store.Pool().Query(t.Context(), objects)
	if err != nil {
		t.Fatal(err)
	}
	list, err := pgx.CollectRows(result, pgx.RowTo[string])
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// steps names the migrations in order, without their endings.
func steps(t *testing.T) []string {
	t.Helper()
	names, err := fs.Glob(migrations.Files, "*.up.sql")
	if err != nil || len(names) == 0 {
		t.Fatalf("%d steps, %v", len(names), err)
	}
	slices.Sort(names)
	for i := range names {
		names[i] = strings.TrimSuffix(names[i], ".up.sql")
	}
	return names
}

func stepText(t *testing.T, name string) string {
	t.Helper()
	text, err := fs.ReadFile(migrations.Files, name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Every step is one transaction: undone before its end it leaves nothing, done it
// has written its number, and its way down takes away exactly what it brought.
func TestStepsAreTransactions(t *testing.T) {
	store := dbtest.Open(t, dbtest.EmptyURL(t))
	states := [][]string{objectsOf(t, store)}
	for i, name := range steps(t) {
		text := stepText(t, name+".up.sql")
		if found := alone.FindString(comment.ReplaceAllString(text, "")); found != "" {
			t.Errorf("%s has %q, which cannot be undone with the rest", name, found)
		}
		tx, err := store.Pool().Begin(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if _, err := tx.Exec(t.Context(), text); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var number int
		if err := tx.QueryRow(t.Context(), `SELECT max(version) FROM schema_applied`).Scan(&number); err != nil || number != i+1 {
			t.Errorf("%s wrote the number %d, %v", name, number, err)
		}
		if err := tx.Rollback(t.Context()); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if diff := cmp.Diff(states[i], objectsOf(t, store)); diff != "" {
			t.Errorf("%s was undone and left (-before +after):\n%s", name, diff)
		}
		if err := store.Exec(t.Context(), text); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		states = append(states, objectsOf(t, store))
	}
	for i, name := range slices.Backward(steps(t)) {
		if len(states[i+1]) <= len(states[i]) {
			t.Errorf("%s brings nothing", name)
		}
		if err := store.Exec(t.Context(), stepText(t, name+".down.sql")); err != nil {
			t.Errorf("%s down: %v", name, err)
		}
		if diff := cmp.Diff(states[i], objectsOf(t, store)); diff != "" {
			t.Errorf("%s and down again (-before +after):\n%s", name, diff)
		}
	}
}

// schema.sql is what the steps make, for readers.
func TestSchemaDumpIsCurrent(t *testing.T) {
	program, err := exec.LookPath("pg_dump")
	if err != nil {
		found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/pg_dump")
		if len(found) == 0 {
			t.Fatal("pg_dump is not here; it comes with PostgreSQL's client programs")
		}
		program = found[len(found)-1]
	}
	dump, err := exec.Command(program, "--schema-only", "--no-owner", "--no-privileges", "--dbname", dbtest.URL(t)).Output()
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, line := range strings.Split(string(dump), "\n") {
		if line != "" && !strings.HasPrefix(line, "--") && !strings.HasPrefix(line, "SET ") && !strings.HasPrefix(line, "SELECT pg_catalog.set_config") && !strings.HasPrefix(line, `\`) {
			lines = append(lines, line)
		}
	}
	now := strings.Join(lines, "\n") + "\n"
	const file = "../migrations/schema.sql"
	if os.Getenv("SCHEMA_UPDATE") != "" {
		if err := os.WriteFile(file, []byte(now), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(file)
	if err != nil || string(kept) != now {
		t.Error("migrations/schema.sql is not what the steps make; run: SCHEMA_UPDATE=1 go test ./db -run SchemaDump")
	}
}
