package api

import (
	"context"
	"encoding/json"
	"errors"
	"mime"
	"net/http"
	"strconv"
	"strings"
	"time"

	"swarf/api/gate"
	"swarf/api/tabular"
	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// Bounds of an import.
const (
	mostImportRows = 100_000
	importTimeout  = 5 * time.Minute
	progressEvery  = 5_000 // rows
)

// postImport answers POST /v1/imports: rows of one sheet as CSV, of any as lines of JSON
// or as a workbook. All of them are written, or none; with validate_only, none.
func postImport(x *exchange) error {
	only, bad := x.query.flag("validate_only")
	if bad != nil {
		return bad
	}
	if x.s.Store == nil && !only {
		return noStore("nothing can be imported")
	}
	snap, err := x.now()
	if err != nil {
		return err
	}
	by, err := x.importer()
	if err != nil {
		return err
	}
	x.takeTime(importTimeout)
	progress := x.progress()
	rows, err := x.importRows()
	if err != nil {
		return err
	}
	im := newImporter(snap, by)
	if err := im.readAll(rows, progress.tell); err != nil {
		return progress.end(err)
	}
	if err := x.charge(im.rows() / 10); err != nil {
		return progress.end(err)
	}
	progress.tell("checking", im.rows())
	todo, err := im.finish()
	if err != nil {
		return progress.end(err)
	}
	report := im.report()
	if im.wrong > 0 {
		report.Drafts = 0
	}
	report.ValidateOnly, report.ModelVersion = only, x.s.ModelVersion
	if im.wrong > 0 && !only {
		return progress.refuse(report)
	}
	if only || todo.Empty() {
		report.Committed = !only
		return progress.answer(http.StatusOK, report)
	}
	progress.tell("writing", im.rows())
	ctx, cancel := context.WithTimeout(x.Request().Context(), importTimeout)
	defer cancel()
	done, err := x.s.Store.Import(ctx, *todo, by)
	if err != nil {
		return progress.end(err)
	}
	x.settled(ctx, done.Revision)
	report.Committed, report.DataRevision, report.Import = true, done.Revision, strconv.FormatInt(done.Revision, 10)
	return progress.answer(http.StatusCreated, report)
}

// takeTime lets a request take longer than others. A connection that knows no deadlines has
// none to move.
func (x *exchange) takeTime(d time.Duration) {
	control := http.NewResponseController(x.Response())
	_ = control.SetReadDeadline(time.Now().Add(d))
	_ = control.SetWriteDeadline(time.Now().Add(d))
}

// importer reads who imports and why.
func (x *exchange) importer() (Author, error) {
	var faults cut.Faults
	text := checker{faults: &faults}
	by := x.signature(text)
	by.Reason = text.text("reason", x.query.text("reason"), longestReason)
	if by.Reason == "" {
		by.Reason = "import"
	}
	return by, faults.List.OrNil()
}

// importRows reads the body by its media type.
func (x *exchange) importRows() (tabular.Rows, error) {
	given := x.Request().Header.Get("Content-Type")
	media, params, _ := mime.ParseMediaType(given)
	if err := checkPlain(x.Request(), params); err != nil {
		return nil, err
	}
	name, limit := x.query.text("sheet"), x.s.Limits.ImportBytes
	if media == formatTable[formatXLSX].media {
		limit = x.s.Limits.WorkbookBytes
	}
	if x.Request().ContentLength > limit {
		x.Response().Header().Set("Connection", "close")
		return nil, tooLarge(limit)
	}
	body := x.counted(http.MaxBytesReader(x.Response().Writer, x.Request().Body, limit))
	switch media {
	case "text/csv":
		if name == "" {
			return nil, fault(domain.Unreadable, "field-missing", "sheet", "a CSV file does not say which table it is", "add sheet="+strings.Join(sheetNames(), ", "))
		}
		if _, err := sheetNamed(name); err != nil {
			return nil, fault(domain.Invalid, "value-out-of-range", "sheet", "there is no sheet "+quoteClipped(name), "take one of "+strings.Join(sheetNames(), ", "))
		}
		return tabular.ReadCSV(name, body), nil
	case formatTable[formatLines].media:
		return tabular.ReadLines(body), nil
	case formatTable[formatXLSX].media:
		return tabular.ReadXLSX(body, sheetNames()), nil
	}
	return nil, fault(domain.Invalid, "media-type-unsupported", "Content-Type", "the body is "+quoteClipped(given), "send text/csv with sheet=…, application/x-ndjson, or a workbook as "+formatTable[formatXLSX].media)
}

// readAll takes up the rows. What cannot be read ends the import.
func (im *importer) readAll(rows tabular.Rows, tell func(string, int)) error {
	count := 0
	for r, err := range rows {
		if err != nil {
			return unreadableRows(err)
		}
		if r.Sheet == "about" || r.Sheet == "columns" {
			continue
		}
		s, missing := sheetNamed(r.Sheet)
		if missing != nil {
			im.fault(clip(r.Sheet), r.Line, "sheet", fault(domain.Invalid, "value-out-of-range", "sheet", "there is no sheet "+quoteClipped(r.Sheet), "take one of "+strings.Join(sheetNames(), ", ")))
			continue
		}
		if count++; count > mostImportRows {
			most := strconv.Itoa(mostImportRows)
			return fault(domain.Invalid, "batch-too-large", "", "there are more than "+most+" rows", "split the table into parts of at most "+most+" rows")
		}
		im.row(s, r)
		if count%progressEvery == 0 {
			tell("reading", count)
		}
	}
	return nil
}

// rows counts the rows taken up.
func (im *importer) rows() int {
	n := 0
	for _, c := range im.counts {
		n += c.Rows
	}
	return n
}

func unreadableRows(err error) error {
	var torn *tabular.Unreadable
	var large *http.MaxBytesError
	switch {
	case errors.Is(err, gate.ErrFull):
		return overloaded()
	case errors.As(err, &torn):
		return fault(domain.Unreadable, "table-unreadable", torn.Sheet, torn.Error(), "nothing was written; mend the file and send it again")
	case errors.As(err, &large):
		return tooLarge(large.Limit)
	}
	return fault(domain.Unreadable, "table-unreadable", "", "the body ended early or could not be read", "nothing was written; send the whole body")
}

// progress tells a caller who reads lines how far an import has come.
type progress struct {
	x     *exchange
	lines bool
	begun bool
}

func (x *exchange) progress() *progress {
	// An answer that is kept is one line, without the way there.
	p := &progress{x: x, lines: x.format == formatLines && x.recording == nil}
	if p.lines {
		// Lines go out while the body comes in. Where that cannot be, they go out late.
		_ = http.NewResponseController(x.Response()).EnableFullDuplex()
	}
	return p
}

// tell writes a line; other formats have only their answer.
func (p *progress) tell(step string, rows int) {
	if !p.lines {
		return
	}
	p.line(http.StatusOK, wire.ImportProgress{Step: step, Rows: rows})
}

func (p *progress) line(status int, v any) {
	w := p.x.Response()
	if !p.begun {
		p.begun = true
		w.Header().Set("Content-Type", p.x.format.contentType())
		w.WriteHeader(status)
	}
	if err := json.NewEncoder(w).Encode(v); err == nil {
		w.Flush()
	}
}

// answer ends with the report: as the answer, or as the last line.
func (p *progress) answer(status int, report *wire.ImportReport) error {
	if p.lines {
		p.line(status, report)
		return nil
	}
	return p.x.render(status, report)
}

// mostToldFaults is how many faults of a table a problem lists; its report has more.
const mostToldFaults = 20

// refuse ends with the problem of a table that has faults, with the report in it.
func (p *progress) refuse(report *wire.ImportReport) error {
	told := make(domain.Errors, 0, mostToldFaults)
	for _, f := range report.Items[:min(len(report.Items), mostToldFaults)] {
		field := index(f.Sheet, f.Row)
		if f.Column != "" {
			field += "." + f.Column
		}
		told = append(told, fault(domain.Invalid, "table-faulty", field, f.Message, f.Fix))
	}
	problem := newProblem(told, unit.Metric)
	problem.RequestID, problem.Report = p.x.id, report
	if p.begun {
		p.line(problem.Status, &problem)
		return nil
	}
	problem.Instance = p.x.Request().URL.EscapedPath()
	p.x.Response().Header().Set("Cache-Control", "no-store")
	contentType, body := problemBody(&problem, problemFormat(p.x.Request()))
	return p.x.send(problem.Status, contentType, body)
}

// end ends with an error: as the answer, or as the last line once lines went out.
func (p *progress) end(err error) error {
	if !p.begun {
		return err
	}
	faults := p.x.faults(err)
	problem := newProblem(faults, unit.Metric)
	problem.RequestID = p.x.id
	p.line(problem.Status, problem)
	p.x.cause = err
	return nil
}

// approveImport answers POST /v1/imports/{id}/approval: every draft of an import that is
// still one, by another person than who imported them.
func approveImport(x *exchange) error {
	id, err := x.pathValue("id")
	if err != nil {
		return err
	}
	if x.s.Store == nil {
		return noStore("records cannot be stored")
	}
	revision, bad := strconv.ParseInt(id, 10, 64)
	if bad != nil || revision < 1 || strconv.FormatInt(revision, 10) != id {
		return notFound("import", id, "/v1/changes")
	}
	return x.withBody(x.s.Limits.BodyBytes, func(data []byte) error {
		var body wire.Approval
		d := decodeBody(data, &body, wire.DecodeOptions{})
		if !d.readable {
			return d.faults
		}
		s, from, err := x.approval(&body, d.faults)
		if err != nil {
			return err
		}
		ctx, cancel := context.WithTimeout(x.Request().Context(), importTimeout)
		defer cancel()
		n, done, err := x.s.Store.CurateImport(ctx, revision, x.stepAuthor(s), func(c *material.Curation) (material.Curation, error) { return c.Approve(s, from) })
		if err != nil {
			return err
		}
		if x.settled(ctx, done.Revision); x.only {
			done.Revision = x.s.Snapshots().Revision
		}
		return x.render(http.StatusOK, &wire.ImportApproval{Import: id, Approved: n, DataRevision: done.Revision, ModelVersion: x.s.ModelVersion})
	})
}

// approval reads who approves, why, and from when.
func (x *exchange) approval(body *wire.Approval, faults domain.Errors) (s material.Step, from string, err error) {
	all := &cut.Faults{List: faults}
	text := checker{faults: all}
	s = x.stepOf(text, body.Reason)
	return s, validFrom(body, text, s), all.List.OrNil()
}
