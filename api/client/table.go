package client

import (
	"context"
	"io"
	"net/http"
	"net/url"

	"swarf/api/wire"
)

// Media types in which tables go out and come in.
const (
	CSV      = "text/csv"
	Lines    = "application/x-ndjson"
	Workbook = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
	Archive  = "application/zip" // of CSV files
)

// Export opens one sheet as CSV or Lines, or the whole catalogue, with an empty name, as
// Lines, Workbook or Archive. The caller reads it as it comes and closes it. It is never
// repeated, since what was read cannot be taken back.
//
// Errors: *Problem, *Unreachable, ErrUnchanged; when reading, what broke the connection.
func (c *Client) Export(ctx context.Context, sheet, media string, o Read) (io.ReadCloser, error) {
	path := "/v1/exports"
	if sheet != "" {
		path = under(path, sheet)
	}
	r := o.request(path)
	r.Header.Set("Accept", media)
	return c.stream(ctx, r)
}

// stream sends a request once and returns the body of the answer, to be read and closed.
func (c *Client) stream(ctx context.Context, r *Request) (io.ReadCloser, error) {
	got, err := c.open(ctx, r, nil)
	if err != nil {
		return nil, &Unreachable{err, 1}
	}
	if got.StatusCode == http.StatusOK {
		return got.Body, nil
	}
	defer got.Body.Close()
	if got.StatusCode == http.StatusNotModified {
		return nil, ErrUnchanged
	}
	body, err := io.ReadAll(io.LimitReader(got.Body, 1<<20))
	if err != nil {
		return nil, &Unreachable{err, 1}
	}
	p := problemOf(&reply{status: got.StatusCode, header: got.Header, body: body})
	p.Tries = 1
	return nil, p
}

// Sheet reads the columns of one sheet.
func (c *Client) Sheet(ctx context.Context, sheet string) (*wire.SheetInfo, error) {
	info, _, err := ask[wire.SheetInfo](ctx, c, Read{}.request(under("/v1/sheets", sheet)))
	return info, err
}

// Import writes a table, or with validateOnly says what it would do. A CSV names its sheet;
// the other media types say it themselves. Rows that are refused come as a *Problem with a
// Report.
//
// Errors: *Problem, *Unreachable.
func (c *Client) Import(ctx context.Context, sheet, media string, table []byte, validateOnly bool, w Write) (*wire.ImportReport, error) {
	r := w.request(http.MethodPost, "/v1/imports")
	r.set("sheet", sheet)
	r.set("reason", w.Reason)
	if validateOnly {
		r.set("validate_only", "true")
		r.Repeatable = true
	}
	r.Header.Set("Content-Type", media)
	r.Body = table
	report, _, err := ask[wire.ImportReport](ctx, c, r)
	return report, err
}

// ApproveImport lets the drafts of an import serve.
func (c *Client) ApproveImport(ctx context.Context, id string, a wire.Approval, w Write) (*wire.ImportApproval, error) {
	done, err := write[wire.ImportApproval](ctx, c, w.request(http.MethodPost, "/v1/imports/"+url.PathEscape(id)+"/approval"), a)
	if err != nil {
		return nil, err
	}
	return &done.Value, nil
}
