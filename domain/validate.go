package domain

import "context"

type validating struct{}

// ValidateOnly marks a context so that what is written under it is checked in full and then
// undone, never kept.
func ValidateOnly(ctx context.Context) context.Context {
	return context.WithValue(ctx, validating{}, true)
}

// ValidatesOnly reports a context whose writes are only checked.
func ValidatesOnly(ctx context.Context) bool { return ctx.Value(validating{}) != nil }
