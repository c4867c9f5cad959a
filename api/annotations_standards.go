package api

//lint:file-ignore U1000 swag reads the comments; nothing calls the functions that carry them

// @Summary Units in the code lists of others
// @Description Every unit that a number of this service can have: its UCUM code, its common code in UN/ECE Recommendation 20, its unit id in OPC UA, which is that code as a number, its IRI in QUDT and its word in MTConnect. A list that has no such unit is left out.
// @Tags reference data
// @Produce json
// @Param limit query int false "items on a page, 1 to 500 (default 50)"
// @Param cursor query string false "next_cursor of the page before"
// @Param units query string false "only those of this system" Enums(metric, inch)
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.UnitList "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/units [get]
func docListUnits() {}

// @Summary Read a cutting tool asset of MTConnect
// @Description One CuttingTool element, or the MTConnectAssets document around it, of any version, as a tool that goes into a cut: dimensions by their elements or by their codes after ISO 13399, spindle speed in revolutions per minute, feed rate from mm/s. What is not taken is listed with the reason. Nothing is stored. Document types and entities are refused.
// @Tags reference data
// @Accept xml
// @Produce json
// @Param class query string true "tool class to take the tool for; its ranges hold"
// @Param units query string false "of the answer: metric (default) or inch" Enums(metric, inch)
// @Param as_of query string false "a revision or an RFC 3339 time: answer from the data as it stood then"
// @Param valid_at query string false "an RFC 3339 time by the floor's clock: records that were in force then, by what is known now"
// @Param format query string false "json, text or csv, for callers that cannot set Accept" Enums(json, text, csv)
// @Param body body string true "the document"
// @Success 200 {object} wire.ToolAsset "the tool, and what of the asset is not in it"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not XML"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/tool-assets [post]
func docPostToolAssets() {}
