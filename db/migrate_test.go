package db_test

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/migrations"
)

func TestMigrate(t *testing.T) {
	config := db.Config{URL: dbtest.EmptyURL(t)}
	newest, err := migrations.Newest(migrations.Files)
	if err != nil {
		t.Fatal(err)
	}
	// several at once: each comes to the newest, and the steps run once
	var wait sync.WaitGroup
	moved := make(chan bool, 3)
	for range 3 {
		wait.Go(func() {
			report, err := db.Migrate(t.Context(), config)
			if err != nil || report.To != newest {
				t.Errorf("%v, %v", report, err)
			}
			moved <- report.From != report.To
		})
	}
	wait.Wait()
	close(moved)
	runs := 0
	for m := range moved {
		if m {
			runs++
		}
	}
	if runs != 1 {
		t.Errorf("the steps ran %d times", runs)
	}
}

// A run that broke off leaves its mark; the next one heals it, whether the step had
// been committed or not.
func TestMigrateHeals(t *testing.T) {
	newest, _ := migrations.Newest(migrations.Files)
	for name, mark := range map[string]struct {
		statement string
		kept      bool
	}{
		"after its last step was committed": {"UPDATE schema_migrations SET dirty = true", true},
		"before its last step was committed": {`DROP TABLE machine CASCADE; DELETE FROM schema_applied WHERE version = 3;
			UPDATE schema_migrations SET dirty = true`, false},
	} {
		t.Run(name, func(t *testing.T) {
			address := dbtest.URL(t)
			store := dbtest.Open(t, address)
			for _, statement := range strings.Split(mark.statement, ";") {
				if err := store.Exec(t.Context(), statement); err != nil {
					t.Fatal(err)
				}
			}
			report, err := db.Migrate(t.Context(), db.Config{URL: address})
			if err != nil || report.To != newest || report.Healed != newest || report.Kept != mark.kept {
				t.Fatalf("%+v, %v", report, err)
			}
			put(t, store, "after healing")
		})
	}
}

// A step that fails is undone whole, and runs once it has been mended.
func TestBrokenStepIsUndone(t *testing.T) {
	config := db.Config{URL: dbtest.URL(t)}
	with := func(last string) fs.FS {
		files := fstest.MapFS{"0004_more.up.sql": {Data: []byte(last)}, "0004_more.down.sql": {Data: []byte("SELECT 1;")}}
		names, _ := fs.Glob(migrations.Files, "*.sql")
		for _, name := range names {
			text, _ := fs.ReadFile(migrations.Files, name)
			files[name] = &fstest.MapFile{Data: text}
		}
		return files
	}
	good := "CREATE TABLE more (id int); INSERT INTO schema_applied (version) VALUES (4);"
	if _, err := db.MigrateFrom(t.Context(), config, with("CREATE TABLE more (id int); SELECT nothing_of_the_kind;")); err == nil {
		t.Fatal("a broken step passes")
	}
	report, err := db.MigrateFrom(t.Context(), config, with(good))
	if err != nil || report.To != 4 || report.Healed != 4 || report.Kept {
		t.Errorf("%+v, %v", report, err)
	}
}

var alone = regexp.MustCompile(`(?i)\b(CONCURRENTLY|COMMIT|ROLLBACK|VACUUM)\b\s*;?`)

// Every step fits into one transaction and writes its number into it; down-steps undo.
func TestStepsAreTransactions(t *testing.T) {
	names, _ := fs.Glob(migrations.Files, "*.up.sql")
	if len(names) == 0 {
		t.Fatal("no steps")
	}
	for _, name := range names {
		text, _ := fs.ReadFile(migrations.Files, name)
		code := regexp.MustCompile(`(?m)--.*$`).ReplaceAllString(string(text), "")
		if found := alone.FindString(code); found != "" {
			t.Errorf("%s has %q, which cannot be undone with the rest", name, found)
		}
		if !strings.Contains(code, "INSERT INTO schema_applied") {
			t.Errorf("%s does not write its number", name)
		}
	}
	store := dbtest.New(t)
	for _, name := range []string{"0003_machine", "0002_reference", "0001_history"} {
		text, err := fs.ReadFile(migrations.Files, name+".down.sql")
		if err != nil {
			t.Fatal(err)
		}
		if err := store.Exec(t.Context(), string(text)); err != nil {
			t.Errorf("%s down: %v", name, err)
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
