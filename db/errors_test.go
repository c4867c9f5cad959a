package db_test

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"testing"

	"github.com/jackc/pgx/v5/pgconn"

	"swarf/db"
	"swarf/domain"
)

// What PostgreSQL says becomes what a caller can act on, by the SQLSTATE (appendix A
// of PostgreSQL's manual) and never by the text.
func TestTranslateStates(t *testing.T) {
	for state, want := range map[string]struct {
		kind domain.Kind
		code string
	}{
		"42P01": {domain.Unavailable, "data-not-ready"}, // undefined table
		"42703": {domain.Unavailable, "data-not-ready"}, // undefined column
		"42883": {domain.Unavailable, "data-not-ready"}, // undefined function
		"3D000": {domain.Unavailable, "data-not-ready"}, // no such database
		"25006": {domain.Unavailable, "data-not-ready"}, // read-only: a standby
		"55P03": {domain.Unavailable, "data-not-ready"}, // lock not available
		"57014": {domain.Unavailable, "data-not-ready"}, // cancelled: a statement's time was up
		"57P01": {domain.Unavailable, "data-not-ready"}, // the server is going down
		"57P03": {domain.Unavailable, "data-not-ready"}, // the server is coming up
		"53300": {domain.Unavailable, "data-not-ready"}, // too many connections
		"53100": {domain.Unavailable, "data-not-ready"}, // the disk is full
		"58030": {domain.Unavailable, "data-not-ready"}, // input or output failed
		"40001": {domain.Unavailable, "data-not-ready"}, // serialisation failure, three times
		"40P01": {domain.Unavailable, "data-not-ready"}, // deadlock, three times
		"28P01": {domain.Unavailable, "data-not-ready"}, // wrong password
		"42501": {domain.Unavailable, "data-not-ready"}, // no right to it
		"25P03": {domain.Unavailable, "data-not-ready"}, // idle in a transaction too long
		"08006": {domain.Unavailable, "data-not-ready"}, // the connection failed
		"23505": {domain.Conflict, "precondition-failed"},
		"23503": {domain.Conflict, "precondition-failed"},
		"23001": {domain.Conflict, "precondition-failed"},
		"23514": {domain.Invalid, "value-out-of-range"},
		"23502": {domain.Invalid, "field-missing"},
		"22003": {domain.Invalid, "value-out-of-range"}, // number out of range
		"22021": {domain.Invalid, "value-out-of-range"}, // text that is not UTF-8
		"42601": {domain.Internal, "internal"},          // a statement of ours is wrong
		"XX000": {domain.Internal, "internal"},
	} {
		said := &pgconn.PgError{Code: state, Message: "secret text", TableName: "machine", ConstraintName: "idle_power_is_never_negative", ColumnName: "name"}
		err := db.Translate(fmt.Errorf("somewhere: %w", said))
		f := fault(t, err, want.kind, want.code)
		if !errors.Is(err, said) || f.Msg == "" {
			t.Errorf("%s: %v lost its cause", state, err)
		}
	}
}

func TestTranslateOthers(t *testing.T) {
	for _, broken := range []error{
		context.DeadlineExceeded, context.Canceled, io.EOF, io.ErrUnexpectedEOF, net.ErrClosed,
		&net.OpError{Op: "read", Err: errors.New("connection reset")},
	} {
		fault(t, db.Translate(fmt.Errorf("while reading: %w", broken)), domain.Unavailable, "data-not-ready")
	}
	fault(t, db.Translate(errors.New("something else")), domain.Internal, "internal")
	ours := &domain.Error{Kind: domain.NotFound, Code: "not-found"}
	for _, same := range []error{nil, ours, fmt.Errorf("wrapped: %w", ours), domain.Errors{ours, ours}} {
		if got := db.Translate(same); fmt.Sprint(got) != fmt.Sprint(same) {
			t.Errorf("%v becomes %v", same, got)
		}
	}
}

// A rule's name is a sentence for the caller.
func TestRulesAreSentences(t *testing.T) {
	err := db.Translate(&pgconn.PgError{Code: "23514", TableName: "machine", ConstraintName: "idle_power_is_never_negative"})
	if f := fault(t, err, domain.Invalid, "value-out-of-range"); f.Msg != "it breaks the rule: machine: idle power is never negative" {
		t.Errorf("%q", f.Msg)
	}
}
