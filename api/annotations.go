package api

//lint:file-ignore U1000 swag reads the comments; nothing calls the functions that carry them

// This file describes the routes for the published document. swag reads the comments
// (Swagger 2); api/docs turns what it makes into OpenAPI 3.0.3. A function here does
// nothing: it carries the comment of one row of the route table.

// @title swarf
// @version 1.0
// @description Sourced cutting data over HTTP: material grades, tool geometry classes, machines, and computed loads and starting parameters for drilling, milling and turning, with findings, limits and sources.
// @description
// @description Units are never guessed: a request with dimensional numbers says "units": "metric" or "inch", and the answer comes back in the same units with a map unit_of from each member's name to its UCUM code. Unknown members and parameters are refused. Every fault of a request is told at once, as a problem document (RFC 9457).
// @description
// @description Computations are asked by POST with a JSON body or by GET with flat query parameters, with the same digits. Answers come as JSON, text/plain (key=value lines), CSV, a bare value, a block of a part program, a page to read and to print, or a picture, as each route says, by Accept or by format=. HEAD works wherever GET does, QUERY wherever a POST only computes.
// @description
// @description A service on loopback is open until its first key is made, and then to reads and computations; any other asks for a key, as Authorization: Bearer. What is written with a key stands in the history under its name. Requests are counted in units against a quota: a read or a computation is one, an item of a batch one, a write ten. A write with an Idempotency-Key is done once, however often it is sent.
// @description
// @description The numbers are starting values. A skilled person decides; the limits of machine, tool and clamping, local rules and licensed practice come first. What was not checked is listed in unchecked and is never to be read as fine.
// @BasePath /

// @Summary Search material grades
// @Description By any designation (UNS, EN number and name, AISI/SAE, JIS, DIN, common name), by ISO 513 group letter, by text. Exact matches first, then beginnings, then text.
// @Tags reference data
// @Produce json
// @Param q query string false "designation or text"
// @Param group query string false "ISO 513 letter, or O" Enums(P, M, K, N, S, H, O)
// @Param limit query int false "items on a page, 1 to 500 (default 50)"
// @Param cursor query string false "next_cursor of the page before"
// @Param units query string false "metric (default) or inch" Enums(metric, inch)
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.MaterialList "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/materials [get]
func docListMaterials() {}

// @Summary One grade with its records
// @Description Designations, conditions with hardness, physical properties, force data, starting values, life data and cautions; every number with source, basis and range.
// @Tags reference data
// @Produce json
// @Param id path string true "id of the grade"
// @Param units query string false "metric (default) or inch" Enums(metric, inch)
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.MaterialRecord "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/materials/{id} [get]
func docGetMaterial() {}

// @Summary What the choice of a record moves
// @Description Every force and life record that could serve a grade, in the order of precedence: which serves, what puts the others behind, and what each gives over it.
// @Tags reference data
// @Produce json
// @Param id path string true "id of the grade"
// @Param units query string false "metric (default) or inch" Enums(metric, inch)
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.MaterialSpread "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/materials/{id}/spread [get]
func docGetSpread() {}

// @Summary Tool geometry classes
// @Description With ISO 13399 property codes, defaults and allowed ranges.
// @Tags reference data
// @Produce json
// @Param limit query int false "items on a page, 1 to 500 (default 50)"
// @Param cursor query string false "next_cursor of the page before"
// @Param units query string false "metric (default) or inch" Enums(metric, inch)
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.ToolClassList "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/tool-classes [get]
func docListClasses() {}

// @Summary One tool geometry class
// @Tags reference data
// @Produce json
// @Param id path string true "id of the class"
// @Param units query string false "metric (default) or inch" Enums(metric, inch)
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.ToolClass "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/tool-classes/{id} [get]
func docGetClass() {}

// @Summary Machines
// @Description Spindle curves by gear and rating (IEC 60034-1), axis limits, coolant, metering.
// @Tags machines
// @Produce json
// @Param limit query int false "items on a page, 1 to 500 (default 50)"
// @Param cursor query string false "next_cursor of the page before"
// @Param units query string false "metric (default) or inch" Enums(metric, inch)
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.MachineList "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/machines [get]
func docListMachines() {}

// @Summary One machine
// @Description Its tag is what a PUT or DELETE sends in If-Match.
// @Tags machines
// @Produce json
// @Param id path string true "id of the machine"
// @Param units query string false "metric (default) or inch" Enums(metric, inch)
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.Machine "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/machines/{id} [get]
func docGetMachine() {}

// @Summary Create or replace a machine
// @Description Send If-None-Match: * to create, If-Match with the machine's tag to replace. What GET gave may be sent back. Needs a database.
// @Tags machines
// @Accept json
// @Produce json
// @Param id path string true "id of the machine"
// @Param If-Match header string false "tag of the machine as you read it"
// @Param If-None-Match header string false "* to create"
// @Param From header string false "who writes"
// @Param reason query string false "why, for the record of changes"
// @Param format query string false "json or text" Enums(json, text)
// @Param body body wire.Machine true "the machine"
// @Success 200 {object} wire.Machine "replaced, or nothing to change"
// @Success 201 {object} wire.Machine "created"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 412 {object} wire.Problem "the tag is stale"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 428 {object} wire.Problem "a tag is required"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/machines/{id} [put]
func docPutMachine() {}

// @Summary Remove a machine
// @Description Its history stays. Needs a database.
// @Tags machines
// @Produce json
// @Param id path string true "id of the machine"
// @Param If-Match header string true "tag of the machine as you read it"
// @Param From header string false "who writes"
// @Param reason query string false "why, for the record of changes"
// @Success 204 "removed"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 412 {object} wire.Problem "the tag is stale"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 428 {object} wire.Problem "a tag is required"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/machines/{id} [delete]
func docDeleteMachine() {}

// @Summary Where numbers come from
// @Tags reference data
// @Produce json
// @Param limit query int false "items on a page, 1 to 500 (default 50)"
// @Param cursor query string false "next_cursor of the page before"
// @Param units query string false "metric (default) or inch" Enums(metric, inch)
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.SourceList "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/sources [get]
func docListSources() {}

// @Summary A hardness on other scales
// @Description One hardness, or one tensile strength, of a grade on every scale that a published table on file reads for that metal. Nothing is extrapolated; what cannot be read stands in unchecked with the reason. A table that is made for another metal is approximate and says so; a strength is read in unalloyed and low-alloy steel alone.
// @Tags reference data
// @Produce json
// @Param grade query string true "any designation of the grade: each metal has its own table, or none"
// @Param value query number false "the hardness, with its scale"
// @Param scale query string false "scale of the value" Enums(HBW, HRC, HRB, HV)
// @Param tensile_strength query number false "instead of a hardness: N/mm2, or ksi in inch"
// @Param units query string false "metric (default) or inch" Enums(metric, inch)
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.HardnessConversion "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/hardness-conversions [get]
func docConvertHardness() {}

// @Summary One source and what rests on it
// @Tags reference data
// @Produce json
// @Param id path string true "id of the source"
// @Param units query string false "metric (default) or inch" Enums(metric, inch)
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.Source "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/sources/{id} [get]
func docGetSource() {}

// @Summary What changed
// @Description For callers that keep a copy: oldest first, after a revision. Needs a database.
// @Tags machines
// @Produce json
// @Param after query int false "revision after which to begin"
// @Param limit query int false "items on a page, 1 to 500 (default 50)"
// @Param cursor query string false "next_cursor of the page before"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.ChangeList "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/changes [get]
func docListChanges() {}
