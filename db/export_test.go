package db

// What the tests of this package, which need dbtest and so stand outside, look at.
var (
	MigrateFrom = migrateFrom
	WithTLS     = withTLS
	Translate   = translate
)
