package store

import (
	"context"
	"crypto/x509"
	"database/sql/driver"
	"errors"
	"io"
	"net"
	"strings"

	"github.com/jackc/pgx/v5/pgconn"
)

// explainServer turns what a PostgreSQL server said, or that it said nothing, into an
// Error; nil when err is neither. The codes are those of the PostgreSQL 15
// documentation, appendix A. Only the server's message is passed on, never an address.
func explainServer(err error, doing, path string) error {
	var said *pgconn.PgError
	var refused *pgconn.ConnectError
	if errors.As(err, &said) {
		if said.Code == "28000" && strings.HasSuffix(said.Message, "no encryption") { // as an English server says it
			return &Error{Failed, "The server of " + path + " lets nobody in whose way to it is not encrypted.", "Add ?sslmode=verify-full to its address, before the #.", nil}
		}
		return explainCode(said.Code, errors.New(said.Message), doing, path)
	}
	if e := unsafe(err, path); e != nil {
		return e
	}
	switch {
	case errors.Is(err, errElsewhere):
		return &Error{Missing, "The shop " + path + " was put aside or moved while it was open.", "Look where it is now, and open it anew.", nil}
	case errors.As(err, &refused), lost(err):
		return &Error{Failed, "The server of " + path + " is not reached.", "See whether it runs and whether this computer reaches it; nothing is lost by waiting.", errors.New(cause(err))}
	}
	return nil
}

// unsafe says why the way to a server is not encrypted as its address asks, or nil where
// that is not what is wrong. Waiting does not help, so that nothing of it is tried again.
func unsafe(err error, path string) *Error {
	var unknown x509.UnknownAuthorityError
	var other x509.HostnameError
	var invalid x509.CertificateInvalidError
	switch {
	case errors.As(err, &unknown):
		return &Error{Failed, "Nobody this computer trusts vouches for the server of " + path + ".",
			"Put the certificate of who does, or the server's own, into a file and name it: ?sslmode=verify-full&sslrootcert=FILE.", nil}
	case errors.As(err, &other):
		return &Error{Failed, "The certificate of the server of " + path + " is for another name.", "Use a name in the address that the certificate is for, or have it made for this one.", nil}
	case errors.As(err, &invalid):
		return &Error{Failed, "The certificate of the server of " + path + " does not hold: it has expired, or was not made for this.",
			"Have whoever keeps the server renew it, and look at this computer's clock.", nil}
	case err != nil && strings.Contains(err.Error(), "server refused TLS connection"): // pgconn has no type for it
		return &Error{Failed, "The server of " + path + " does not encrypt, and the address asks for that.",
			"Have whoever keeps the server turn it on (ssl). Only where nobody else is on the wire, leave sslmode out.", nil}
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
	return unsafe(err, "") == nil && (errors.As(err, &refused) || lost(err))
}

// lost says whether the line to a server broke.
func lost(err error) bool {
	var line net.Error
	return errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, driver.ErrBadConn) || errors.Is(err, pgconn.ErrConnClosed) ||
		errors.Is(err, net.ErrClosed) || pgconn.SafeToRetry(err) || errors.As(err, &line)
}
