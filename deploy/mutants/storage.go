package main

// storage are faults in what is kept, and in who gets to know of it.
var storage = []mutant{
	{"skip the revision check of an import", "db/import.go", "if newest != i.Revision {", "if false {", "db", "TestAnImportIsWhole", nil},
	{"let writers pass each other", "db/db.go", "SELECT revision FROM data_revision FOR UPDATE", "SELECT revision FROM data_revision", "db", "TestOneWriterWins", nil},
	{"write without asking the check", "db/write.go", "if w.Check != nil {", "if false {", "db", "TestReplaceOrRemove", nil},
	{"forget who wrote", "db/db.go", "set_config('swarf.who', $1, true), set_config('swarf.person'", "set_config('swarf.who', left($1, 1), true), set_config('swarf.person'", "db", "TestChangesTellWhoWhenWhy", nil},
	{"write where nothing is durable", "db/db.go", "if setting[1] == \"off\" {", "if false {", "db", "TestWritesNeedADurableServer", nil},
	mutant{"notify before commit", "migrations/0001_history.up.sql", "PERFORM pg_notify('swarf_revision', made::text);", "", "db", "TestListenHearsAtOnce", nil}.and(
		"db/db.go", "\t\treturn noteChanges(ctx, tx, before)\n", "\t\tif err := noteChanges(ctx, tx, before); err != nil {\n\t\t\treturn err\n\t\t}\n\t\t_, err := db.pool.Exec(ctx, `SELECT pg_notify('swarf_revision', '')`)\n\t\treturn err\n"),
	{"notify nobody", "migrations/0001_history.up.sql", "PERFORM pg_notify('swarf_revision', made::text);", "", "db", "TestListenHearsAtOnce", nil},
	{"listen to keys alone", "db/listen.go", "`LISTEN swarf_revision; LISTEN swarf_keys`", "`LISTEN swarf_keys`", "db", "TestListenHearsAtOnce", nil},
	{"keep what a superseding record ends", "db/curate.go", "if err := supersede(ctx, tx, id, &after); err != nil {", "if err := error(nil); err != nil {", "db", "TestLifeOfARecord", nil},
	{"migrate without the lock", "db/migrate.go", "fmt.Sprintf(`SELECT pg_advisory_lock(%d)`, migrationLock),", "fmt.Sprintf(`SELECT %d`, migrationLock),", "db", "TestMigrateWaitsForItsTurn", nil},
	{"count a step as done that was not", "db/migrate.go", "sound := int(applied)\n", "sound := int(version)\n", "db", "TestMigrateHeals", nil},
	{"answer as of the revision after", "db/snapshot.go", "return *when.Revision, nil", "return min(*when.Revision+1, newest), nil", "db", "TestEveryEarlierRevision", nil},
	{"keep the snapshot that a write has overtaken", "cmd/swarf/snapshots.go", "return snap != nil && snap.Revision >= revision && !s.cold.Load()", "return snap != nil && !s.cold.Load()", "cmd/swarf", "TestSnapshotsFollowTheNewestRevision", nil},
	{"compare no checksum of a snapshot", "db/snapshot/snapshot.go", "!bytes.Equal(sum, want[:])", "len(sum) != len(want)", "db/snapshot", "TestAnyFlippedBitIsRefused", nil},
	{"believe any signature of a snapshot", "db/snapshot/snapshot.go", "trust != nil && !ed25519.Verify(trust, file[:end], signature)", "trust != nil && len(signature) == 0", "db/snapshot", "TestAnyFlippedBitIsRefused", nil},
	{"keep what was only to be checked", "db/db.go", "\treturn errChecked\n", "\treturn nil\n", "db", "TestWritesThatAreOnlyChecked", nil},
	{"seal without the seal before", "migrations/0012_seal.up.sql", "SELECT sha256(coalesce(before, ''::bytea) || convert_to", "SELECT sha256(''::bytea || convert_to", "db", "TestAuditOfASoundHistory", nil},
	{"believe the seals that are kept", "db/audit.go", "case !bytes.Equal(hash, sum[:]):", "case len(hash) == 0:", "db", "TestAuditFindsForgery", nil},
}
