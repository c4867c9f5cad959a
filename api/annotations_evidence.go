package api

//lint:file-ignore U1000 swag reads the comments; nothing calls the functions that carry them

// @Summary Keep what was measured
// @Description A load on a meter, the log of an edge, a surface, on a cut as it was made. What proves nothing is kept aside with the reason. Nothing serves until a person approves what was fitted to it. Needs a database.
// @Tags evidence
// @Accept json
// @Produce json
// @Param From header string false "who observed"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param body body wire.Observation true "the observation"
// @Success 201 {object} wire.Observed "kept"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/observations [post]
func docPostObservation() {}

// @Summary What was measured
// @Description Oldest first.
// @Tags evidence
// @Produce json
// @Param kind query string false "load, edge or surface" Enums(load, edge, surface)
// @Param state query string false "accepted or set-aside" Enums(accepted, set-aside)
// @Param material query string false "id of a grade"
// @Param machine query string false "id of a machine"
// @Param limit query int false "items on a page, 1 to 500 (default 50)"
// @Param cursor query string false "next_cursor of the page before"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.ObservationList "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/observations [get]
func docListObservations() {}

// @Summary Keep what was measured (batch)
// @Description Up to 10,000 observations in one transaction, as items in JSON or as a table (text/csv) whose headings are flat names. A bad item is a problem in its place and never fails the others.
// @Tags evidence
// @Accept json
// @Produce json
// @Param From header string false "who observed"
// @Param units query string false "metric or inch, for a table that does not say" Enums(metric, inch)
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param body body object true "units and items"
// @Success 200 {object} wire.ObservedBatch "items in order, and their counts"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/observations/batch [post]
func docBatchObservations() {}

// @Summary What do the observations say of a metal?
// @Description Fits force constants, or the law of tool life, to the accepted observations with the record that serves as the belief to begin from, and writes the proposal as a draft with its interval and its effect on the kept cuts. Needs a database.
// @Tags evidence
// @Accept json
// @Produce json
// @Param From header string false "who proposes"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param body body wire.CalibrationRequest true "which metal and process"
// @Success 201 {object} wire.Calibration "the proposal"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 409 {object} wire.Problem "the record is past this step"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/calibrations [post]
func docPostCalibration() {}

// @Summary Approve a proposal
// @Description As /v1/records/{id}/approval: by another person than who proposed it.
// @Tags evidence
// @Accept json
// @Produce json
// @Param id path string true "id of the draft"
// @Param From header string true "who approves"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param body body wire.Approval true "why, and from when"
// @Success 200 {object} wire.Record "approved"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 409 {object} wire.Problem "the record is past this step"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/calibrations/{id}/approval [post]
func docApproveCalibration() {}

// @Summary The meter reads other than you said: why?
// @Description The causes a practitioner knows, the likeliest first, with the share of the difference each could explain and the cheapest test that tells them apart.
// @Tags computations
// @Accept json
// @Produce json
// @Param explain query bool false "add the derivation"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param window query bool false "ask for the override window"
// @Param fields query string false "only these members, comma-separated dotted paths; the answer then lacks the others, required ones too"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param body body wire.DiagnosisRequest true "the request"
// @Success 200 {object} wire.Diagnosis "the causes, ranked"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/diagnoses [post]
func docPostDiagnoses() {}

// @Summary The meter reads other than you said: why? (flat)
// @Description The causes a practitioner knows, the likeliest first, with the share of the difference each could explain and the cheapest test that tells them apart. Members go by their own name where it stands once (cutting_diameter=30), by the dotted path elsewhere.
// @Tags computations
// @Produce json
// @Param explain query bool false "add the derivation"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param window query bool false "ask for the override window"
// @Param fields query string false "only these members, comma-separated dotted paths; the answer then lacks the others, required ones too"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Success 200 {object} wire.Diagnosis "the same digits as by POST"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/diagnoses [get]
func docGetDiagnoses() {}

// @Summary The meter reads other than you said: why? (batch)
// @Description Up to 10,000 items that inherit units; a bad item is a problem in its place and never fails the others.
// @Tags computations
// @Accept json
// @Produce json
// @Param explain query bool false "add the derivation"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param window query bool false "ask for the override window"
// @Param fields query string false "only these members, comma-separated dotted paths; the answer then lacks the others, required ones too"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param body body object true "units and items"
// @Success 200 {object} wire.Batch "items in order, and their counts"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/diagnoses/batch [post]
func docBatchDiagnoses() {}
