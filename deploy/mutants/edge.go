package main

// edge are faults in what is read and what is answered.
var edge = []mutant{
	{"pass over unknown members", "api/wire/decode_faults.go", "d.fault(Unreadable, \"unknown-field\", d.field(), \"there is no member \"+quote(name)+\" here\", fix)", "_ = fix", "api/wire", "TestDecodeFaults", nil},
	{"take the last of two members", "api/wire/decode.go", "d.fault(Unreadable, \"json-invalid\", d.field(), inner+\" stands here twice\", \"keep one of them\")", "", "api/wire", "TestDecodeFaults", nil},
	{"take what follows the end", "api/wire/decode.go", "d.bad = &flaw{d.at, \"there is more after the end of the object\"}", "return", "api/wire", "TestDecodeFaults", nil},
	{"take numbers too small to divide by", "api/wire/decode_value.go", "if x != 0 && x > -smallest && x < smallest {", "if false {", "api/wire", "TestDecodeFaults", nil},
	{"convert twice", "api/wire/decode_value.go", "x = q.ToMetric(d.scope.system, x)", "x = q.ToMetric(d.scope.system, q.ToMetric(d.scope.system, x))", "api/wire", "TestRequestsComeBack", nil},
	{"leave formulas in tables", "api/wire/csv.go", "if s != \"\" && strings.IndexByte(\"=+-@\\t\\r\\n\\x00\", s[0]) >= 0 {", "if false {", "api/wire", "TestListAsCSV", nil},
	{"forget the If-Match", "api/conditional.go", "if p.match == \"\" && !p.create {", "if false {", "api", "TestPreconditions", nil},
	{"take a stale If-Match", "api/conditional.go", "if tagListed(p.match, tag, false) {", "if tag != \"\" {", "api", "TestPreconditions", nil},
	{"take a weak tag for a write", "api/conditional.go", "if tagListed(p.match, tag, false) {", "if tagListed(p.match, tag, true) {", "api", "TestPreconditions", nil},
	{"create over what is there", "api/conditional.go", "if p.create && exists {", "if false {", "api", "TestPreconditions", nil},
	{"give JSON and CSV one tag", "api/conditional.go", "digest.Write([]byte(contentType))", "_ = contentType", "api", "TestTagsDifferByBytesAndFormat", nil},
	{"follow a cursor into another list", "api/list.go", "if c.Filters != x.filterDigest() {", "if c.Filters == \"\" {", "api", "TestCursorBelongsToItsFilters", nil},
	{"page across two revisions", "api/list.go", "if there && c.Revision != snap.Revision {", "if there && c.Revision == 0 {", "api", "TestCursorStaysAtItsRevision", nil},
	{"skip the last item of a share", "api/share.go", "for at := from; at < min(from+few, n); at++ {", "for at := from; at < min(from+few, n-1); at++ {", "api", "TestEveryItemIsDoneOnce", nil},
	{"hold a place while the answer goes out", "api/exchange.go", "x.leave()\n	w.WriteHeader(status)", "w.WriteHeader(status)", "api", "TestAnswersGoOutWithoutAPlace", nil},
	{"hold a place while the database is waited for", "api/overload.go", "had := x.seat\n	x.leave()", "had := seat{}", "api", "TestWaitingForTheDatabaseHoldsNoPlace", nil},
	{"take bodies whatever the memory", "api/body.go", "if !x.s.admission.memory.Take(more) {", "if more < 0 {", "api", "TestBodiesCountAsMemory", nil},
	{"give memory back twice", "api/gate/budget.go", "r.taken = 0", "", "api/gate", "TestBudgetCountsWhatCame", nil},
	{"take a record of no condition of its grade", "api/record_read.go", "if _, has := m.Condition(name); !has {", "if false {", "api", "TestRecordFaults", nil},
}
