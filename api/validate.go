package api

import (
	"context"
	"net/http"
	"strconv"
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
	if only && x.route.changes() {
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
