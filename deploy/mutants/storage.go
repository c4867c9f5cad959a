package main

// storage are faults in what is kept, and in who gets to know of it.
var storage = []mutant{
	{"skip the revision check of an import", "db/import.go", "if newest != i.Revision {", "if false {", "db", ""},
	{"let writers pass each other", "db/db.go", "SELECT revision FROM data_revision FOR UPDATE", "SELECT revision FROM data_revision", "db", ""},
	{"write without asking the check", "db/write.go", "if w.Check != nil {", "if false {", "db", ""},
	{"forget who wrote", "db/db.go", "set_config('swarf.who', $1, true)", "set_config('swarf.who', coalesce(nullif($1, $1), 'somebody'), true)", "db", ""},
	{"write where nothing is durable", "db/db.go", "if setting[1] == \"off\" {", "if false {", "db", ""},
	{"notify before commit", "migrations/0001_history.up.sql", "PERFORM pg_notify('swarf_revision', made::text);", "PERFORM pg_notify('swarf_revision', (made - 1)::text);", "db", ""},
	{"notify nobody", "migrations/0001_history.up.sql", "PERFORM pg_notify('swarf_revision', made::text);", "", "db", ""},
	{"look before listening", "db/listen.go", "_, err := conn.Exec(ctx, `LISTEN swarf_revision`)", "_, err := conn.Exec(ctx, `SELECT 1`)", "db", ""},
	{"keep what a superseding record ends", "db/curate.go", "if err := supersede(ctx, tx, id, &after); err != nil {", "if err := error(nil); err != nil {", "db", ""},
	{"migrate without the lock", "db/migrate.go", "fmt.Sprintf(`SELECT pg_advisory_lock(%d)`, migrationLock),", "fmt.Sprintf(`SELECT %d`, migrationLock),", "db", ""},
	{"count a step as done that was not", "db/migrate.go", "sound := int(applied)\n", "sound := int(version)\n", "db", ""},
	{"answer as of the revision after", "db/snapshot.go", "return *when.Revision, nil", "return min(*when.Revision+1, newest), nil", "db", ""},
	{"keep the snapshot that a write has overtaken", "cmd/swarf/snapshots.go", "snap != nil && snap.Revision >= revision }", "snap != nil }", "cmd/swarf", ""},
	{"take fewer machines than there are", "cmd/swarf/snapshots.go", "if err != nil || !only {", "if err != nil {", "cmd/swarf", ""},
}
