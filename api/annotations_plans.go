package api

//lint:file-ignore U1000 swag reads the comments; nothing calls the functions that carry them

// @Summary Plan a routing
// @Description Cuts in their order, each with the best parameters on the machine that suits its set-up: what each machine has to do in time and energy, the edges that are worn out where a tool-life record allows, the weakest margins first, and what a cut leaves for those after it. Parameters that are given are kept. A cut without a length has no time.
// @Tags computations
// @Accept json
// @Produce json
// @Param explain query bool false "add the derivation"
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param window query bool false "ask for the override window"
// @Param fields query string false "only these members, comma-separated dotted paths; the answer then lacks the others, required ones too"
// @Param format query string false "json or text, for callers that cannot set Accept" Enums(json, text)
// @Param body body wire.PlanRequest true "the routing"
// @Success 200 {object} wire.Plan "what could be computed; refusals are findings"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet"
// @Router /v1/plans [post]
func docPostPlans() {}
