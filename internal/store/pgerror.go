package store

import (
	"context"
	"database/sql/driver"
	"errors"
	"io"
	"net"

	"github.com/jackc/pgx/v5/pgconn"
)

// explainServer turns what a PostgreSQL server said, or that it said nothing, into an
// Error; nil when err is neither. The codes are those of the PostgreSQL 15
// documentation, appendix A. Only the server's message is passed on, never an address.
func explainServer(err error, doing, path string) error {
	var said *pgconn.PgError
	var refused *pgconn.ConnectError
	if errors.As(err, &said) {
		return explainCode(said.Code, errors.New(said.Message), doing, path)
	}
	switch {
	case errors.Is(err, errElsewhere):
		return &Error{Missing, "The shop " + path + " was put aside or moved while it was open.", "Look where it is now, and open it anew.", nil}
	case errors.As(err, &refused), lost(err):
		return &Error{Failed, "The server of " + path + " is not reached.", "See whether it runs and whether this computer reaches it; nothing is lost by waiting.", errors.New(cause(err))}
	}
	return nil
}

// cause is why a server is not reached, in words that hold nothing secret.
func cause(err error) string {
	var op *net.OpError
	var name *net.DNSError
	switch {
	case errors.As(err, &name):
		return "its name is not known here"
	case errors.As(err, &op):
		return op.Err.Error()
	case errors.Is(err, context.DeadlineExceeded):
		return "no answer in time"
	}
	return "the line broke"
}

func explainCode(code string, err error, doing, path string) error {
	switch code {
	case "28P01", "28000":
		return &Error{Failed, "The server does not let " + path + " in.", "Check the user in the address, and its passphrase in PGPASSFILE or PGPASSWORD.", err}
	case "3D000":
		return &Error{Missing, "The server has no such database: " + path + ".", "Have it made (createdb), or check the address.", err}
	case "3F000", "42P01":
		return &Error{Missing, "There is no shop at " + path + ".", "Start a new one there, or check the address.", err}
	case "42501", "25006":
		return readOnlyServer(path, err)
	case "53100", "53200":
		return full(path, err)
	case "53300":
		return &Error{InUse, "The server of " + path + " takes no more connections.", "Close some, or have more allowed (max_connections).", err}
	case "40001", "40P01", "55P03", "40003":
		return &Error{InUse, "Others kept writing to " + path + " at the same moment; nothing was written.", "Try again.", err}
	case "XX001", "XX002":
		return damaged(path, err)
	}
	return &Error{Failed, doing + " " + path + " failed.", "", err}
}

func readOnlyServer(path string, err error) error {
	return &Error{ReadOnly, path + " may not be written by this user of the server.", "Ask whoever keeps the server for the right to write, or only look.", err}
}

// again says whether a transaction that ended with err may succeed when it is tried
// anew: it met another, or its server went away.
func again(err error) bool {
	var said *pgconn.PgError
	if errors.As(err, &said) {
		switch said.Code {
		case "40001", "40P01", "40003", // serialization failure, deadlock, not known whether it counted
			"23505",          // a number was taken meanwhile, on a server that locks no rows
			"57P01", "57P02", // it shuts down, it crashed
			"57P03", "53300", // it starts, it is full
			"25P03": // the transaction was idle for too long
			return true
		}
		return len(said.Code) == 5 && said.Code[:2] == "08" // the connection broke
	}
	var refused *pgconn.ConnectError
	return errors.As(err, &refused) || lost(err)
}

// lost says whether the line to a server broke.
func lost(err error) bool {
	var line net.Error
	return errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, driver.ErrBadConn) || errors.Is(err, pgconn.ErrConnClosed) ||
		errors.Is(err, net.ErrClosed) || pgconn.SafeToRetry(err) || errors.As(err, &line)
}
