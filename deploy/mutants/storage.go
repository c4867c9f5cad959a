package main

// storage are faults in what is kept, and in who gets to know of it.
var storage = []mutant{
	{"skip the revision check of an import", "db/import.go", "if newest != i.Revision {", "if false {", "db", "TestAnImportIsWhole"},
	{"let writers pass each other", "db/db.go", "SELECT revision FROM data_revision FOR UPDATE", "SELECT revision FROM data_revision", "db", "TestOneWriterWins"},
	{"write without asking the check", "db/write.go", "if w.Check != nil {", "if false {", "db", "TestReplaceOrRemove"},
	{"forget who wrote", "db/db.go", "set_config('swarf.who', $1, true)", "set_config('swarf.who', left($1, 1), true)", "db", "TestChangesTellWhoWhenWhy"},
	{"write where nothing is durable", "db/db.go", "if setting[1] == \"off\" {", "if false {", "db", "TestWritesNeedADurableServer"},
	{"notify before commit", "migrations/0001_history.up.sql", "PERFORM pg_notify('swarf_revision', made::text);", "PERFORM pg_notify('swarf_revision', (made - 1)::text);", "db", "TestListenHearsAtOnce"},
	{"notify nobody", "migrations/0001_history.up.sql", "PERFORM pg_notify('swarf_revision', made::text);", "", "db", "TestListenHearsAtOnce"},
	{"listen to keys alone", "db/listen.go", "`LISTEN swarf_revision; LISTEN swarf_keys`", "`LISTEN swarf_keys`", "db", "TestListenHearsAtOnce"},
	{"keep what a superseding record ends", "db/curate.go", "if err := supersede(ctx, tx, id, &after); err != nil {", "if err := error(nil); err != nil {", "db", "TestLifeOfARecord"},
	{"migrate without the lock", "db/migrate.go", "fmt.Sprintf(`SELECT pg_advisory_lock(%d)`, migrationLock),", "fmt.Sprintf(`SELECT %d`, migrationLock),", "db", "TestMigrateWaitsForItsTurn"},
	{"count a step as done that was not", "db/migrate.go", "sound := int(applied)\n", "sound := int(version)\n", "db", "TestMigrateHeals"},
	{"answer as of the revision after", "db/snapshot.go", "return *when.Revision, nil", "return min(*when.Revision+1, newest), nil", "db", "TestEveryEarlierRevision"},
	{"keep the snapshot that a write has overtaken", "cmd/swarf/snapshots.go", "return snap != nil && snap.Revision >= revision && !s.cold.Load()", "return snap != nil && !s.cold.Load()", "cmd/swarf", "TestSnapshotsFollowTheNewestRevision"},
	{"take fewer machines than there are", "cmd/swarf/snapshots.go", "if err != nil || !only {", "if err != nil {", "cmd/swarf", "TestReplicasAgree"},
}
