package api

//lint:file-ignore U1000 swag reads the comments; nothing calls the functions that carry them

// @Summary I will run these parameters: what do they load?
// @Description Chip, forces, torque and power for a sharp and a worn edge, by every method that has a record, held against a machine's limits. Nothing is chosen.
// @Tags computations
// @Accept json
// @Produce json
// @Param explain query bool false "add the derivation"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param window query bool false "ask for the override window"
// @Param fields query string false "only these members, comma-separated dotted paths; the answer then lacks the others, required ones too"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param body body wire.Cut true "the request"
// @Success 200 {object} wire.Answer "what could be computed; refusals are findings"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, no storage, or too much to do"
// @Router /v1/estimates [post]
func docPostEstimates() {}

// @Summary I will run these parameters: what do they load? (flat)
// @Description Chip, forces, torque and power for a sharp and a worn edge, by every method that has a record, held against a machine's limits. Nothing is chosen. Members go by their own name where it stands once (cutting_diameter=30), by the dotted path elsewhere.
// @Tags computations
// @Produce json
// @Param explain query bool false "add the derivation"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param window query bool false "ask for the override window"
// @Param fields query string false "only these members, comma-separated dotted paths; the answer then lacks the others, required ones too"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Success 200 {object} wire.Answer "the same digits as by POST"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, no storage, or too much to do"
// @Router /v1/estimates [get]
func docGetEstimates() {}

// @Summary I will run these parameters: what do they load? (batch)
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
// @Param Prefer header string false "respond-async: keep it, compute it later and answer with the job (RFC 7240); needs a database"
// @Param From header string false "who asks, for the job"
// @Success 200 {object} wire.Batch "items in order, and their counts"
// @Success 202 {object} wire.Job "kept as a job"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, no storage, or too much to do"
// @Router /v1/estimates/batch [post]
func docBatchEstimates() {}

// @Summary What should I run?
// @Description Starting values from the records, adjusted by the habits of the trade, each listed; then the smallest change that makes every limit hold. Parameters that are given are kept.
// @Tags computations
// @Accept json
// @Produce json
// @Param explain query bool false "add the derivation"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param window query bool false "ask for the override window"
// @Param fields query string false "only these members, comma-separated dotted paths; the answer then lacks the others, required ones too"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param body body wire.Cut true "the request"
// @Success 200 {object} wire.Answer "what could be computed; refusals are findings"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, no storage, or too much to do"
// @Router /v1/recommendations [post]
func docPostRecommendations() {}

// @Summary What should I run? (flat)
// @Description Starting values from the records, adjusted by the habits of the trade, each listed; then the smallest change that makes every limit hold. Parameters that are given are kept. Members go by their own name where it stands once (cutting_diameter=30), by the dotted path elsewhere.
// @Tags computations
// @Produce json
// @Param explain query bool false "add the derivation"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param window query bool false "ask for the override window"
// @Param fields query string false "only these members, comma-separated dotted paths; the answer then lacks the others, required ones too"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Success 200 {object} wire.Answer "the same digits as by POST"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, no storage, or too much to do"
// @Router /v1/recommendations [get]
func docGetRecommendations() {}

// @Summary What should I run? (batch)
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
// @Param Prefer header string false "respond-async: keep it, compute it later and answer with the job (RFC 7240); needs a database"
// @Param From header string false "who asks, for the job"
// @Success 200 {object} wire.Batch "items in order, and their counts"
// @Success 202 {object} wire.Job "kept as a job"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, no storage, or too much to do"
// @Router /v1/recommendations/batch [post]
func docBatchRecommendations() {}

// @Summary Which of these machines can run it?
// @Description Every cut against every machine: yes, conditional or no, with limits and findings. purpose release fails closed. A pair that is no yes is told `ways`, the smallest changes that turn it into one, and `no_ways`, what stands in the way of the levers that do not: the first 100 noes, and conditionals in requests of up to 100 pairs.
// @Tags computations
// @Accept json
// @Produce json
// @Param explain query bool false "add the derivation"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param window query bool false "ask for the override window"
// @Param fields query string false "only these members, comma-separated dotted paths; the answer then lacks the others, required ones too"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param body body wire.SpindleCheck true "the request"
// @Success 200 {object} wire.SpindleResults "what could be computed; refusals are findings"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, no storage, or too much to do"
// @Router /v1/spindle-checks [post]
func docPostSpindleChecks() {}

// @Summary Which of these machines can run it? (flat)
// @Description Every cut against every machine: yes, conditional or no, with limits and findings. purpose release fails closed. A pair that is no yes is told `ways`, the smallest changes that turn it into one, and `no_ways`, what stands in the way of the levers that do not: the first 100 noes, and conditionals in requests of up to 100 pairs. Members go by their own name where it stands once (cutting_diameter=30), by the dotted path elsewhere.
// @Tags computations
// @Produce json
// @Param explain query bool false "add the derivation"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param window query bool false "ask for the override window"
// @Param fields query string false "only these members, comma-separated dotted paths; the answer then lacks the others, required ones too"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Success 200 {object} wire.SpindleResults "the same digits as by POST"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, no storage, or too much to do"
// @Router /v1/spindle-checks [get]
func docGetSpindleChecks() {}

// @Summary Which of these machines can run it? (batch)
// @Description Up to 10,000 items that inherit units; a bad item is a problem in its place and never fails the others. `ways` and `no_ways` stand with the noes among the first 100 items, and with conditionals in batches of up to 100.
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
// @Param Prefer header string false "respond-async: keep it, compute it later and answer with the job (RFC 7240); needs a database"
// @Param From header string false "who asks, for the job"
// @Success 200 {object} wire.Batch "items in order, and their counts"
// @Success 202 {object} wire.Job "kept as a job"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, no storage, or too much to do"
// @Router /v1/spindle-checks/batch [post]
func docBatchSpindleChecks() {}

// @Summary It measures this: what do I change?
// @Description The change of a tool register from a measured size: the stock left on each side, twice that in a diameter register; negative takes more off.
// @Tags computations
// @Accept json
// @Produce json
// @Param explain query bool false "add the derivation"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param window query bool false "ask for the override window"
// @Param fields query string false "only these members, comma-separated dotted paths; the answer then lacks the others, required ones too"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param body body wire.CorrectionRequest true "the request"
// @Success 200 {object} wire.CorrectionAnswer "what could be computed; refusals are findings"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, no storage, or too much to do"
// @Router /v1/corrections [post]
func docPostCorrections() {}

// @Summary It measures this: what do I change? (flat)
// @Description The change of a tool register from a measured size: the stock left on each side, twice that in a diameter register; negative takes more off. Members go by their own name where it stands once (cutting_diameter=30), by the dotted path elsewhere.
// @Tags computations
// @Produce json
// @Param explain query bool false "add the derivation"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param window query bool false "ask for the override window"
// @Param fields query string false "only these members, comma-separated dotted paths; the answer then lacks the others, required ones too"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Success 200 {object} wire.CorrectionAnswer "the same digits as by POST"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, no storage, or too much to do"
// @Router /v1/corrections [get]
func docGetCorrections() {}

// @Summary It measures this: what do I change? (batch)
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
// @Failure 503 {object} wire.Problem "no data yet, no storage, or too much to do"
// @Router /v1/corrections/batch [post]
func docBatchCorrections() {}

// @Summary The process runs
// @Tags service
// @Produce json
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Success 200 {object} wire.Health "it does"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Router /healthz [get]
func docHealth() {}

// @Summary Data is loaded
// @Description degraded with the age of the data while the database is away; reads and computations go on.
// @Tags service
// @Produce json
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Success 200 {object} wire.Readiness "ready, or degraded"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 503 {object} wire.Problem "no data yet, no storage, or too much to do"
// @Router /readyz [get]
func docReady() {}

// @Summary What runs
// @Tags service
// @Produce json
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Success 200 {object} wire.Version "versions of program, formulas and data"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Router /version [get]
func docVersion() {}

// @Summary Every kind of problem
// @Tags service
// @Produce json
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Success 200 {object} problemList "the catalogue"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Router /problems [get]
func docProblems() {}

// @Summary One kind of problem
// @Tags service
// @Produce json
// @Param slug path string true "code of the problem"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Success 200 {object} ProblemKind "when it is told, and what to do"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Router /problems/{slug} [get]
func docProblem() {}

// @Summary This document
// @Tags service
// @Produce json
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} object "OpenAPI 3.0.3"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Router /openapi.json [get]
func docOpenAPI() {}

// @Summary The routes, to try in a browser
// @Tags service
// @Produce json
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {string} string "a page"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Router /docs [get]
func docDocs() {}

// @Summary Worked examples, a cut of every operation
// @Description Plain HTML: each is a link to its answer, a form to change its numbers and a body to send.
// @Tags service
// @Produce json
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {string} string "a page"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Router /docs/examples [get]
func docExamples() {}
