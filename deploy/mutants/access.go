package main

// access are faults in who may do what, and how often.
var access = []mutant{
	{"store the idempotency key after commit", "db/answer.go", "\t\treturn keep(ctx, tx, claim, answer)\n\t})\n",
		"\t\treturn nil\n\t})\n\tif err == nil && !replayed {\n\t\terr = db.InTx(ctx, func(tx pgx.Tx) error { return keep(ctx, tx, claim, answer) })\n\t}\n", "db", "TestTheAnswerIsKeptWithTheWrite", nil},
	{"answer another request with a used key", "db/answer.go", "case [sha256.Size]byte(print) != c.Fingerprint:", "case len(print) == 0:", "db", "TestOnce", nil},
	{"repeat the answer of another caller", "db/answer.go", "WHERE caller = $1 AND key = $2 AND", "WHERE (caller = $1 OR true) AND key = $2 AND", "db", "TestOnce", nil},
	{"do the same request twice at a time", "db/answer.go", "if !free {", "if !free && c.Key == \"\" {", "db", "TestOnceAtATime", nil},
	{"keep a fault of ours as the answer", "db/answer.go", "if answer.Status >= 500 || answer.Forget {", "if answer.Forget {", "db", "TestOnceUndoes", nil},
	{"leave out the body of what is repeated", "api/once.go", "\tdigest.Write(body)\n", "", "api", "TestAWriteIsRepeated", nil},
	{"let a revoked key in", "domain/access/key.go", "&& k.View == t.View && k.State(atUnix) == \"live\"", "&& k.View == t.View", "domain/access", "TestWhenAKeyServes", nil},
	{"let an old secret serve for ever", "domain/access/key.go", "return s.UntilUnix == 0 || atUnix < s.UntilUnix", "return s.UntilUnix == 0 || atUnix > 0", "domain/access", "TestWhenAKeyServes", nil},
	{"let every key do everything", "api/admit.go", "if !k.Scopes.Has(scope) {", "if scope == 0 {", "api", "TestEveryRouteWithEveryScope", nil},
	{"take a key from an address", "api/admit.go", "if view != \"\" && !token.View {", "if view != \"\" && token.ID == \"\" {", "api", "TestWrongKeys", nil},
	{"overlook refusals where the caller is strict", "api/strict.go", "f.Severity == domain.Hold.String() || f.Severity == domain.Refusal.String()", "f.Severity == domain.Hold.String()", "api", "TestStrictHandlingMakesProblemsOfHolds", nil},
	{"send again what must not be repeated", "api/client/send.go", "again := r.Repeatable && try", "again := try", "api/client", "TestRepeats", nil},
}
