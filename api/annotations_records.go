package api

//lint:file-ignore U1000 swag reads the comments; nothing calls the functions that carry them

// @Summary Records in every state
// @Description Force, starting-value and life records: drafts, those in force, and those that were superseded or withdrawn.
// @Tags records
// @Produce json
// @Param kind query string false "force, starting or life" Enums(force, starting, life)
// @Param state query string false "draft, approved, superseded or withdrawn" Enums(draft, approved, superseded, withdrawn)
// @Param material query string false "what it is about: the id of a grade, a subgroup, a group"
// @Param limit query int false "items on a page, 1 to 500 (default 50)"
// @Param cursor query string false "next_cursor of the page before"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.RecordList "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/records [get]
func docListRecords() {}

// @Summary One record with its life
// @Description Who wrote it, who approved it, from when to when it serves, what it took the place of.
// @Tags records
// @Produce json
// @Param id path string true "id of the record"
// @Param units query string false "metric (default) or inch" Enums(metric, inch)
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param format query string false "json or text" Enums(json, text)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.Record "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/records/{id} [get]
func docGetRecord() {}

// @Summary Write a draft
// @Description Send If-None-Match: * to write a new draft, If-Match with its tag to write it anew. A record that was approved is changed by a draft of another id that supersedes it. Needs a database.
// @Tags records
// @Accept json
// @Produce json
// @Param id path string true "id of the record"
// @Param If-Match header string false "tag of the draft as you read it"
// @Param If-None-Match header string false "* to create"
// @Param From header string false "who writes"
// @Param reason query string false "why, for the record of changes"
// @Param format query string false "json or text" Enums(json, text)
// @Param body body wire.Record true "the record"
// @Success 200 {object} wire.Record "written anew"
// @Success 201 {object} wire.Record "a new draft"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 409 {object} wire.Problem "the record is past this step"
// @Failure 412 {object} wire.Problem "the tag is stale"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 428 {object} wire.Problem "a tag is required"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/records/{id} [put]
func docPutRecord() {}

// @Summary Approve a draft
// @Description By another person than its author, whom the From header names. It serves at once, or from valid_from on, and what it supersedes ends then. Look at its impact first. Needs a database.
// @Tags records
// @Accept json
// @Produce json
// @Param id path string true "id of the record"
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
// @Router /v1/records/{id}/approval [post]
func docApproveRecord() {}

// @Summary Withdraw a record
// @Description At once. Withdrawn for safety, what would have rested on it is refused until another record takes its place. Nothing is deleted. Needs a database.
// @Tags records
// @Accept json
// @Produce json
// @Param id path string true "id of the record"
// @Param From header string true "who withdraws"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param body body wire.Withdrawal true "why, and whether for safety"
// @Success 200 {object} wire.Record "withdrawn"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 409 {object} wire.Problem "the record is past this step"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/records/{id}/withdrawal [post]
func docWithdrawRecord() {}

// @Summary What the next step on a record would do
// @Description To the kept cuts: a draft is taken as approved, a record in force as withdrawn. Ratios are after over before.
// @Tags records
// @Produce json
// @Param id path string true "id of the record"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.Impact "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/records/{id}/impact [get]
func docGetImpact() {}

// @Summary Cuts that are kept
// @Description To show what a change of data would do to them.
// @Tags records
// @Produce json
// @Param limit query int false "items on a page, 1 to 500 (default 50)"
// @Param cursor query string false "next_cursor of the page before"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.KeptCutList "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/cuts [get]
func docListCuts() {}

// @Summary One kept cut
// @Description In the units in which it was sent.
// @Tags records
// @Produce json
// @Param id path string true "id of the cut"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param format query string false "json or text" Enums(json, text)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.KeptCut "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/cuts/{id} [get]
func docGetCut() {}

// @Summary Keep a cut
// @Description As one would ask it of /v1/estimates, or without speed and feed of /v1/recommendations. Send If-None-Match: * to create, If-Match with its tag to replace. Needs a database.
// @Tags records
// @Accept json
// @Produce json
// @Param id path string true "id of the cut"
// @Param If-Match header string false "tag of the cut as you read it"
// @Param If-None-Match header string false "* to create"
// @Param From header string false "who writes"
// @Param reason query string false "why, for the record of changes"
// @Param format query string false "json or text" Enums(json, text)
// @Param body body wire.KeptCut true "the cut"
// @Success 200 {object} wire.KeptCut "replaced, or nothing to change"
// @Success 201 {object} wire.KeptCut "kept"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 412 {object} wire.Problem "the tag is stale"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 428 {object} wire.Problem "a tag is required"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/cuts/{id} [put]
func docPutCut() {}

// @Summary Keep a cut no longer
// @Description Its history stays. Needs a database.
// @Tags records
// @Produce json
// @Param id path string true "id of the cut"
// @Param If-Match header string true "tag of the cut as you read it"
// @Param From header string false "who writes"
// @Param reason query string false "why, for the record of changes"
// @Success 204 "removed"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 412 {object} wire.Problem "the tag is stale"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 428 {object} wire.Problem "a tag is required"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/cuts/{id} [delete]
func docDeleteCut() {}
