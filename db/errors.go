package db

import (
	"context"
	"errors"
	"io"
	"net"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgerrcode"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"swarf/domain"
)

// Codes of the problems that this package raises.
const (
	notReady  = "data-not-ready"
	clash     = "precondition-failed"
	badValue  = "value-out-of-range"
	notFound  = "not-found"
	asOf      = "as-of-unknown"
	ourFault  = "internal"
	tryAgain  = "try again shortly"
	migrateIt = "run swarf migrate"
	brokeOff  = "the connection to the database broke; nothing was kept"
	lookFirst = "read the record again, then repeat the write if it is missing"
)

// translate turns an error of the driver into one of the domain, by SQLSTATE and
// constraint name, never by text. Domain errors pass as they are.
func translate(err error) error {
	if err == nil {
		return nil
	}
	var ours *domain.Error
	var many domain.Errors
	if errors.As(err, &ours) || errors.As(err, &many) {
		return err
	}
	var refused *pgconn.PgError
	if errors.As(err, &refused) {
		return translateState(refused, err)
	}
	unavailable := func(text, fix string) error {
		return &domain.Error{Kind: domain.Unavailable, Code: notReady, Msg: text, Fix: fix, Err: err}
	}
	var unreached *pgconn.ConnectError
	var broken net.Error
	switch {
	case errors.As(err, &unreached):
		return unavailable("the database is out of reach", tryAgain)
	case errors.Is(err, context.DeadlineExceeded):
		return unavailable("the database did not answer in time", tryAgain)
	case errors.Is(err, context.Canceled):
		return unavailable("the request ended before the database answered", tryAgain)
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, net.ErrClosed),
		errors.As(err, &broken), pgconn.SafeToRetry(err):
		return unavailable(brokeOff, tryAgain)
	}
	return &domain.Error{Kind: domain.Internal, Code: ourFault, Msg: "the database's answer was not understood", Err: err}
}

// translateState is translate for what the server itself says.
func translateState(refused *pgconn.PgError, err error) error {
	fault := func(kind domain.Kind, code, text, fix string) error {
		return &domain.Error{Kind: kind, Code: code, Msg: text, Fix: fix, Err: err}
	}
	state := refused.Code
	switch state {
	case pgerrcode.UndefinedTable, pgerrcode.UndefinedColumn, pgerrcode.UndefinedFunction:
		return fault(domain.Unavailable, notReady, "the database's schema does not fit this program", migrateIt)
	case pgerrcode.InvalidCatalogName:
		return fault(domain.Unavailable, notReady, "the database does not exist on the server", "create it, then "+migrateIt)
	case pgerrcode.ReadOnlySQLTransaction:
		return fault(domain.Unavailable, notReady, "the database takes no writes now", tryAgain)
	case pgerrcode.LockNotAvailable:
		return fault(domain.Unavailable, notReady, "another write did not end in time", tryAgain)
	case pgerrcode.QueryCanceled:
		return fault(domain.Unavailable, notReady, "the database did not answer in time", tryAgain)
	case pgerrcode.UniqueViolation:
		return fault(domain.Conflict, clash, "it exists already, against the rule: "+rule(refused), "read it again")
	case pgerrcode.ForeignKeyViolation:
		return fault(domain.Conflict, clash, "it refers to what is not there, or is still referred to, against the rule: "+rule(refused), "write what it needs first, or remove what uses it first")
	case pgerrcode.RestrictViolation:
		return fault(domain.Conflict, clash, "refused by the rule: "+rule(refused), "")
	case pgerrcode.CheckViolation:
		return fault(domain.Invalid, badValue, "it breaks the rule: "+rule(refused), "send a value that keeps it")
	case pgerrcode.NotNullViolation:
		return fault(domain.Invalid, "field-missing", refused.TableName+": "+refused.ColumnName+" is missing", "add it")
	}
	switch {
	case pgerrcode.IsDataException(state):
		return fault(domain.Invalid, badValue, "the database cannot hold such a value", "send plain text and finite numbers")
	case pgerrcode.IsInvalidAuthorizationSpecification(state), state == pgerrcode.InsufficientPrivilege:
		return fault(domain.Unavailable, notReady, "the database does not let this program in", "check user and password in DATABASE_URL, and the user's rights")
	case pgerrcode.IsConnectionException(state), pgerrcode.IsInsufficientResources(state),
		pgerrcode.IsOperatorIntervention(state), pgerrcode.IsTransactionRollback(state),
		pgerrcode.IsSystemError(state), state == pgerrcode.IdleInTransactionSessionTimeout:
		return fault(domain.Unavailable, notReady, "the database cannot serve now", tryAgain)
	}
	return fault(domain.Internal, ourFault, "the database refused a statement of ours", "")
}

// rule reads a constraint's name as the sentence it is.
func rule(refused *pgconn.PgError) string {
	return refused.TableName + ": " + strings.ReplaceAll(refused.ConstraintName, "_", " ")
}

// givenUp reports a transaction that the server undid so that another could go on.
func givenUp(err error) bool {
	var refused *pgconn.PgError
	return errors.As(err, &refused) &&
		(refused.Code == pgerrcode.SerializationFailure || refused.Code == pgerrcode.DeadlockDetected)
}

// undone reports that the server answered a commit with no. An end of the connection, by
// the server's own word too, may come after the commit stands.
func undone(err error) bool {
	if errors.Is(err, pgx.ErrTxCommitRollback) {
		return true
	}
	var refused *pgconn.PgError
	return errors.As(err, &refused) && refused.SeverityUnlocalized == "ERROR"
}

// lostServer reports a server that has become a standby or is going down, whose
// connections are of no further use.
func lostServer(err error) bool {
	var refused *pgconn.PgError
	if !errors.As(err, &refused) {
		return false
	}
	switch refused.Code {
	case pgerrcode.ReadOnlySQLTransaction, pgerrcode.AdminShutdown, pgerrcode.CrashShutdown, pgerrcode.CannotConnectNow:
		return true
	}
	return false
}

// milliseconds writes a duration as PostgreSQL's settings read it.
func milliseconds(d time.Duration) string { return strconv.FormatInt(d.Milliseconds(), 10) }
