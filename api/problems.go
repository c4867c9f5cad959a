package api

import "net/http"

// ProblemKind is one entry of the catalogue of problems: what a code means, when
// it is raised and what to do about it. It is served under /problems/{slug}.
type ProblemKind struct {
	Slug   string `json:"code"`
	Title  string `json:"title"`
	Status int    `json:"status"`
	When   string `json:"when"`
	Fix    string `json:"fix"`
}

// requestInvalid is the code of a whole request whose faults have several codes.
const requestInvalid = "request-invalid"

// problemKinds is the one table from code to status and text; the order is that
// of the catalogue page.
var problemKinds = []ProblemKind{
	{requestInvalid, "The request has several faults", http.StatusBadRequest,
		"The request has faults of more than one kind. The status is 400 when any of them could not be read, otherwise 422.",
		"Go through `faults`: each names its field, its own code and its remedy."},
	{"json-invalid", "The body is not one JSON object", http.StatusBadRequest,
		"The body is empty, cut short, not JSON, holds more than one value, or names a member twice.",
		"Send exactly one JSON object in UTF-8, each member once."},
	{"unknown-field", "A member is not known here", http.StatusBadRequest,
		"A member of the body is misspelt, or belongs to another route or operation. Nothing is skipped, because a misspelt depth would become no depth.",
		"Remove it, or spell it as the nearest name in the fault."},
	{"unknown-parameter", "A query parameter is not known here", http.StatusBadRequest,
		"A query parameter is misspelt or belongs to another route.",
		"Remove it, or spell it as the nearest name in the fault."},
	{"field-missing", "Something required is missing", http.StatusBadRequest,
		"A member or parameter that the answer depends on was left out.",
		"Add it; no number is assumed to be zero."},
	{"alternative-missing", "One of several is needed", http.StatusBadRequest,
		"None of several members that would do was given, such as cutting speed or spindle speed.",
		"Give one of those named in the fault."},
	{"fields-conflict", "Two members exclude each other", http.StatusUnprocessableEntity,
		"Two members say the same thing in different ways, such as two speeds, a grade and a group, or one id in the path and another in the body.",
		"Keep one of them."},
	{"wrong-type", "A value is of the wrong type", http.StatusBadRequest,
		"Text or null stands where a number belongs, a list where one value belongs, or a parameter is empty or given twice.",
		"Send numbers plainly, with a decimal point and without a unit."},
	{"value-out-of-range", "A value cannot be", http.StatusUnprocessableEntity,
		"A number is zero, negative, not finite, or beyond what its field can mean; or a word is none of those allowed.",
		"Stay within the range, or take one of the words, that the fault states."},
	{"units-missing", "The units are not stated", http.StatusBadRequest,
		"The request has a number with a dimension and does not say in which units.",
		"Add `units`: metric or inch. Nothing is guessed."},
	{"units-unknown", "The units are not known", http.StatusBadRequest,
		"`units` is something other than metric or inch.",
		"Say metric or inch."},
	{"operation-unknown", "No such operation", http.StatusUnprocessableEntity,
		"`operation` is not the name of an operation.",
		"Take one of the names in the fault."},
	{"operation-not-available", "This version does not compute the operation", http.StatusUnprocessableEntity,
		"The operation is part of the contract but has no computation in this version.",
		"Take one of the operations in the fault, or wait for a version that has it."},
	{"tool-class-unknown", "No such tool class", http.StatusUnprocessableEntity,
		"`tool.class` is not the id of a tool class.",
		"Take one of the nearest ids in the fault; /v1/tool-classes lists all."},
	{"tool-class-unfit", "The tool class does not do the operation", http.StatusUnprocessableEntity,
		"The class exists but is not made for the operation.",
		"Take a class that does it; the fault names some."},
	{"machine-unknown", "No such machine", http.StatusUnprocessableEntity,
		"`machine` is not the id of a stored machine. No other machine is taken in its place.",
		"Take one of the nearest ids in the fault, store the machine first, or send it inline."},
	{"material-unknown", "No such material", http.StatusUnprocessableEntity,
		"No grade has this designation or id.",
		"Look among the nearest designations in the fault; for a what-if answer name a `group` instead."},
	{"material-ambiguous", "The designation could mean several grades", http.StatusUnprocessableEntity,
		"The word names a family, or several grades go by it.",
		"Take one of `candidates`; they may differ widely in force and speed."},
	{"condition-unknown", "The grade has no such condition", http.StatusUnprocessableEntity,
		"`material.condition` is none of the conditions on record for the grade.",
		"Take one of those in the fault."},
	{"hardness-scale-missing", "A hardness needs its scale", http.StatusBadRequest,
		"A hardness was sent as a bare number: 40 HRC and 40 HBW are different metals.",
		"Add `scale`: HBW, HRC, HRB or HV."},
	{"hardness-scale-unknown", "The hardness scale is not known", http.StatusUnprocessableEntity,
		"`scale` is none of those that can be converted.",
		"Use HBW, HRC, HRB or HV."},
	{"engagement-impossible", "The geometry cannot be", http.StatusUnprocessableEntity,
		"The cut is wider than the cutter, the existing hole as large as the drill, the depth over the radius, or the like.",
		"Compare the two numbers that the fault states."},
	{"as-of-unknown", "No such revision", http.StatusUnprocessableEntity,
		"`as_of` names a revision or a time from which no data is held.",
		"Take a revision up to the newest, which the fault states."},
	{"cursor-invalid", "The cursor does not fit", http.StatusBadRequest,
		"The cursor was changed, belongs to other filters, or to a revision that is no longer at hand.",
		"Begin again without a cursor."},
	{"not-found", "There is nothing here", http.StatusNotFound,
		"No record has this id, or no route has this path. A path with a slash at its end is another path.",
		"Check the id and the path; the lists under /v1 show what there is."},
	{"method-not-allowed", "The method is not for this path", http.StatusMethodNotAllowed,
		"The path exists, but not with this method.",
		"Use one of the methods in the `Allow` header."},
	{"not-authenticated", "The key is missing or not valid", http.StatusUnauthorized,
		"The request carries no key, or one that is unknown, expired or revoked.",
		"Send a valid key."},
	{"not-permitted", "The key may not do this", http.StatusForbidden,
		"The key is valid but its scope does not cover the request.",
		"Use a key with the scope that the fault names."},
	{"precondition-required", "Say which state you change", http.StatusPreconditionRequired,
		"A write came without a condition, so it could undo somebody else's change unseen.",
		"Send `If-Match` with the ETag of the last JSON answer to replace or delete, `If-None-Match: *` to create."},
	{"precondition-failed", "The record is not in the state you expect", http.StatusPreconditionFailed,
		"The tag in `If-Match` is not that of the present record, or `If-None-Match: *` met a record that exists.",
		"Read the record again and send its new tag."},
	{"evidence-missing", "Nothing was measured that decides", http.StatusUnprocessableEntity,
		"No accepted observation is there to fit to, or none of an edge at the end of its life.",
		"Send observations first; those that were set aside say why."},
	{"state-unfit", "The record is past this step", http.StatusConflict,
		"Only a draft can be written or approved, and only once can a record be withdrawn.",
		"Read the record; to change one that was approved, write a draft that supersedes it."},
	{"approver-is-author", "Somebody else approves", http.StatusUnprocessableEntity,
		"Whoever wrote a record cannot approve it.",
		"Ask another person; the From header names them."},
	{"idempotency-key-reused", "The key was used for another request", http.StatusUnprocessableEntity,
		"An `Idempotency-Key` came a second time with another body.",
		"Take a new key for a new request."},
	{"idempotency-key-busy", "The first request with this key is still at work", http.StatusConflict,
		"An `Idempotency-Key` came again before the first request with it was answered.",
		"Wait and repeat the same request."},
	{"body-too-large", "The body is too large", http.StatusRequestEntityTooLarge,
		"The body is larger than the route takes: 1 MiB, for a batch 16 MiB.",
		"Send less, or split it."},
	{"batch-too-large", "The batch has too many items", http.StatusRequestEntityTooLarge,
		"A batch holds more items than one request may.",
		"Split it into batches of at most 10,000 items."},
	{"table-unreadable", "The table cannot be read", http.StatusBadRequest,
		"A table that was sent for import has no headings, a torn row, or is no file of its kind.",
		"Mend the row that the fault names; nothing of the table was written."},
	{"table-faulty", "The table has faults", http.StatusUnprocessableEntity,
		"Rows of a table that was sent for import cannot be; `report` lists them by sheet, row and column. Nothing of the table was written.",
		"Mend the rows; `validate_only=true` checks a table without writing it."},
	{"import-overtaken", "The data changed while the import was checked", http.StatusConflict,
		"Somebody wrote between the reading of the table and its writing, so that what was checked no longer holds.",
		"Send the import again; nothing of it was written."},
	{"media-type-unsupported", "The body is of another media type", http.StatusUnsupportedMediaType,
		"`Content-Type` is missing or not one that the route reads, or the body is compressed.",
		"Send `Content-Type: application/json`, uncompressed, in UTF-8."},
	{"not-acceptable", "No such format", http.StatusNotAcceptable,
		"`Accept` or `format` asks for a media type in which the route does not answer.",
		"Ask for one of those in the fault."},
	{"too-many-requests", "Too many requests", http.StatusTooManyRequests,
		"The caller sent more requests than its share.",
		"Wait as long as `Retry-After` says."},
	{"storage-not-configured", "Nothing can be stored here", http.StatusServiceUnavailable,
		"The service runs without a database, from the reference data in the binary, and the request would store something or read a history.",
		"Set DATABASE_URL, run `swarf migrate` and `swarf load`, and start the service again. Machines can also be sent inline."},
	{"data-not-ready", "The data is not there now", http.StatusServiceUnavailable,
		"The service is starting, or the database that the request needs is out of reach.",
		"Try again shortly; `Retry-After` says when."},
	{"internal", "Something went wrong here", http.StatusInternalServerError,
		"A fault of the service itself. The cause is in its log under the request id.",
		"Try again; if it stays, report the `request_id`."},
}

var problemBySlug = indexProblems()

func indexProblems() map[string]*ProblemKind {
	index := make(map[string]*ProblemKind, len(problemKinds))
	for i := range problemKinds {
		index[problemKinds[i].Slug] = &problemKinds[i]
	}
	return index
}

// Problems lists the catalogue of problems.
func Problems() []ProblemKind { return append([]ProblemKind(nil), problemKinds...) }
