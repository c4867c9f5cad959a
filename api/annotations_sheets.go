package api

//lint:file-ignore U1000 swag reads the comments; nothing calls the functions that carry them

// @Summary The tables of the catalogue
// @Description Which tables can be exported and imported, and what their columns are. As XLSX, a workbook to fill in.
// @Tags tables
// @Produce json
// @Param format query string false "json, text, csv or xlsx" Enums(json, text, csv, xlsx)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.SheetList "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Router /v1/sheets [get]
func docListSheets() {}

// @Summary One table of the catalogue
// @Description Its columns, which are required, and the units that a heading may state in brackets. As CSV, a table to fill in.
// @Tags tables
// @Produce json
// @Param id path string true "name of the table"
// @Param units query string false "metric (default) or inch, for the headings of the CSV" Enums(metric, inch)
// @Param format query string false "json, text or csv" Enums(json, text, csv)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.SheetInfo "the answer"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Router /v1/sheets/{id} [get]
func docGetSheet() {}

// @Summary The whole catalogue
// @Description Every table at one revision: lines of JSON (the first says of which revision), a workbook, or CSV files in a ZIP archive. Poll it with If-None-Match: the tag moves with the data. An import of what was exported changes nothing.
// @Tags tables
// @Produce json
// @Param units query string false "metric (default) or inch" Enums(metric, inch)
// @Param as_of query string false "a revision or an RFC 3339 time: the data as it stood then"
// @Param format query string false "ndjson, xlsx or zip" Enums(ndjson, xlsx, zip)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.SheetInfo "the catalogue"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet"
// @Router /v1/exports [get]
func docExportAll() {}

// @Summary One table of the catalogue, with its rows
// @Description Text that a spreadsheet would take for a formula has an apostrophe in front; an import takes it off.
// @Tags tables
// @Produce json
// @Param id path string true "name of the table"
// @Param units query string false "metric (default) or inch" Enums(metric, inch)
// @Param as_of query string false "a revision or an RFC 3339 time: the data as it stood then"
// @Param format query string false "csv or ndjson" Enums(csv, ndjson)
// @Param If-None-Match header string false "tag of the copy you have: 304 when it is still good"
// @Success 200 {object} wire.SheetInfo "the table"
// @Success 304 "your copy is still good"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "not found"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet"
// @Router /v1/exports/{id} [get]
func docExportOne() {}

// @Summary Import tables
// @Description Rows of one table as CSV (sheet says which), of several as lines of JSON or as a workbook. All rows are written in one revision, or none; validate_only writes none and needs no database. Up to 64 MiB and 100,000 rows; a workbook up to 16 MiB and 10,000 rows. Headings may state metric or inch units. Rows are added or changed, never removed. Force, starting and life records become drafts. A caller who asks for lines hears how far it has come.
// @Tags tables
// @Accept json
// @Produce json
// @Param sheet query string false "which table a CSV is; required for one"
// @Param validate_only query bool false "check, and write nothing"
// @Param reason query string false "why, for the record of changes"
// @Param From header string false "who imports"
// @Param format query string false "json, text, csv or ndjson" Enums(json, text, csv, ndjson)
// @Param body body object true "the rows"
// @Success 200 {object} wire.ImportReport "checked, or nothing to change"
// @Success 201 {object} wire.ImportReport "written"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 409 {object} wire.Problem "the data changed meanwhile"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "neither CSV, lines of JSON nor a workbook"
// @Failure 422 {object} wire.Problem "rows have faults: the report in it lists them"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/imports [post]
func docPostImport() {}

// @Summary Approve the drafts of an import
// @Description All that are still drafts, or none, by another person than who imported them, whom the From header names. Needs a database.
// @Tags tables
// @Accept json
// @Produce json
// @Param id path string true "the import, as its report names it"
// @Param From header string true "who approves"
// @Param format query string false "json, text or csv" Enums(json, text, csv)
// @Param body body wire.Approval true "why, and from when"
// @Success 200 {object} wire.ImportApproval "approved"
// @Failure 400 {object} wire.Problem "cannot be read, or something required is missing"
// @Failure 404 {object} wire.Problem "no such import, or none of its drafts waits"
// @Failure 406 {object} wire.Problem "no such format here"
// @Failure 413 {object} wire.Problem "too large"
// @Failure 415 {object} wire.Problem "not JSON"
// @Failure 422 {object} wire.Problem "read, but cannot be"
// @Failure 503 {object} wire.Problem "no data yet, or no storage"
// @Router /v1/imports/{id}/approval [post]
func docApproveImport() {}
