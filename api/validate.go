package api

import (
	"context"
	"net/http"
	"strconv"

	"swarf/domain/catalog"
	"swarf/domain/material"
)

type validating struct{}

// ValidatesOnly reports a context whose writes the store checks in full and does not keep.
func ValidatesOnly(ctx context.Context) bool { return ctx.Value(validating{}) != nil }

// readValidateOnly marks a write that is only to be checked: everything that the store does
// under the context of the request is undone, whatever the handler is. The answer is that
// of the write, with status 200 for 201, and says that nothing was kept.
func (x *exchange) readValidateOnly() error {
	only, bad := x.query.flag("validate_only")
	if bad != nil {
		return bad
	}
	if only && x.route.kind == writing {
		x.only = true
		x.SetRequest(x.Request().WithContext(context.WithValue(x.Request().Context(), validating{}, true)))
		x.Response().Header().Set("Validate-Only", "true")
	}
	return nil
}

// checkedOnly takes out of an answer what only a write that was kept has.
func (x *exchange) checkedOnly(status int) int {
	h := x.Response().Header()
	for _, name := range []string{"ETag", "Location"} {
		h.Del(name)
	}
	if snap := x.s.Snapshots(); snap != nil {
		h.Set("Data-Revision", strconv.FormatInt(snap.Revision, 10))
	}
	if status == http.StatusCreated {
		return http.StatusOK
	}
	return status
}

// curated is a record as it would stand after a step.
func curated(r *catalog.Record, life material.Curation) *catalog.Record {
	out := &catalog.Record{ID: r.ID}
	switch {
	case r.Force != nil:
		f := *r.Force
		f.Curation, out.Force = &life, &f
	case r.Starting != nil:
		s := *r.Starting
		s.Curation, out.Starting = &life, &s
	case r.Life != nil:
		l := *r.Life
		l.Curation, out.Life = &life, &l
	}
	return out
}

// withRecord is a snapshot with a record that is not kept.
func withRecord(snap *catalog.Snapshot, r *catalog.Record) (*catalog.Snapshot, error) {
	data := snap.Data()
	switch {
	case r.Force != nil:
		data.Force = replaced(data.Force, *r.Force, func(f *material.Force) string { return f.ID })
	case r.Starting != nil:
		data.Starting = replaced(data.Starting, *r.Starting, func(s *material.Starting) string { return s.ID })
	case r.Life != nil:
		data.Life = replaced(data.Life, *r.Life, func(l *material.Life) string { return l.ID })
	}
	return catalog.New(data)
}

// replaced is a list with one in the place of its namesake, or at the end.
func replaced[T any](list []T, one T, id func(*T) string) []T {
	out := make([]T, 0, len(list)+1)
	for i := range list {
		if id(&list[i]) != id(&one) {
			out = append(out, list[i])
		}
	}
	return append(out, one)
}

// answerRecord answers a write of a record: as it stands now, or, of a write that was only
// checked, as it would.
func (x *exchange) answerRecord(ctx context.Context, status int, would *catalog.Record, revision int64) error {
	if x.only {
		return x.render(status, x.s.recordToWire(would, x.system))
	}
	return x.recordNow(ctx, status, would.ID, revision)
}
