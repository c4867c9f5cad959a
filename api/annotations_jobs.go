package api

//lint:file-ignore U1000 swag reads the comments; nothing calls the functions that carry them

// @Summary Batches that are computed later
// @Description Sent with `Prefer: respond-async`, a batch of estimates, recommendations or spindle checks is kept and computed in its turn, up to 500,000 items of it. The newest first.
// @Tags jobs
// @Produce json
// @Param limit query int false "items on a page, 1 to 500 (default 50)"
// @Param cursor query string false "next_cursor of the page before"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.JobList "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no storage"
// @Router /v1/jobs [get]
func docListJobs() {}

// @Summary How far a batch has come
// @Description The items that are done are counted as they come. What a service that died left undone, another goes on with.
// @Tags jobs
// @Produce json
// @Param id path string true "number of the job"
// @Param format query string false "json or text, for callers that cannot set Accept" Enums(json, text)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.Job "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 503 {object} wire.Problem "no storage"
// @Router /v1/jobs/{id} [get]
func docGetJob() {}

// @Summary End a batch
// @Description What has ended stays as it is.
// @Tags jobs
// @Produce json
// @Param id path string true "number of the job"
// @Param format query string false "json or text, for callers that cannot set Accept" Enums(json, text)
// @Success 200 {object} wire.Job "the job as it stands"
// @Failure 400 {object} wire.Problem "cannot be read"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 503 {object} wire.Problem "no storage"
// @Router /v1/jobs/{id} [delete]
func docCancelJob() {}

// @Summary The answers of a batch
// @Description An answer or a problem a line, in the order of the items, all from one revision of the data.
// @Tags jobs
// @Produce json
// @Param id path string true "number of the job"
// @Success 200 {object} wire.Job "the answers"
// @Failure 400 {object} wire.Problem "cannot be read"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 409 {object} wire.Problem "not finished"
// @Failure 503 {object} wire.Problem "no storage"
// @Router /v1/jobs/{id}/result [get]
func docGetJobResult() {}
