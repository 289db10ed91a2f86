package store

import (
	"hopperful/fact"

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
			return &Error{Failed, fact.Say("store.the_server_of_lets_nobody", fact.Name("path", path)), fact.Say("store.add_sslmode_verify_full_to"), nil}
		}
		return explainCode(said.Code, errors.New(said.Message), doing, path)
	}
	if e := unsafe(err, path); e != nil {
		return e
	}
	switch {
	case errors.Is(err, errElsewhere):
		return &Error{Missing, fact.Say("store.the_shop_was_put_aside", fact.Name("path", path)), fact.Say("store.look_where_it_is_now"), nil}
	case errors.As(err, &refused), lost(err):
		return &Error{Failed, fact.Say("store.the_server_of_is_not", fact.Name("path", path), fact.Parts("why", cause(err))), fact.Say("store.see_whether_it_runs_and"), nil}
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
		return &Error{Failed, fact.Say("store.nobody_this_computer_trusts_vouches", fact.Name("path", path)),
			fact.Say("store.put_the_certificate_of_who"), nil}
	case errors.As(err, &other):
		return &Error{Failed, fact.Say("store.the_certificate_of_the_server", fact.Name("path", path)), fact.Say("store.use_a_name_in_the"), nil}
	case errors.As(err, &invalid):
		return &Error{Failed, fact.Say("store.the_certificate_of_the_server_2", fact.Name("path", path)),
			fact.Say("store.have_whoever_keeps_the_server"), nil}
	case err != nil && strings.Contains(err.Error(), "refused TLS connection"): // pgconn has no type for it
		return &Error{Failed, fact.Say("store.the_server_of_does_not", fact.Name("path", path)),
			fact.Say("store.have_whoever_keeps_the_server_2"), nil}
	}
	return nil
}

// cause is why a server is not reached; it holds nothing secret.
func cause(err error) fact.Saying {
	var op *net.OpError
	var name *net.DNSError
	switch {
	case errors.As(err, &name):
		return fact.Say("store.name_not_known")
	case errors.As(err, &op):
		return fact.Verbatim(op.Err.Error())
	case errors.Is(err, context.DeadlineExceeded):
		return fact.Say("store.no_answer")
	}
	return fact.Say("store.line_broke")
}

func explainCode(code string, err error, doing, path string) error {
	switch code {
	case "28P01", "28000":
		return &Error{Failed, fact.Say("store.the_server_does_not_let", fact.Name("path", path)), fact.Say("store.check_the_user_in_the"), err}
	case "3D000":
		return &Error{Missing, fact.Say("store.the_server_has_no_such", fact.Name("path", path)), fact.Say("store.have_it_made_createdb_or"), err}
	case "3F000", "42P01":
		return &Error{Missing, fact.Say("store.there_is_no_shop_at_2", fact.Name("path", path)), fact.Say("store.start_a_new_one_there_2"), err}
	case "42501", "25006":
		return readOnlyServer(path, err)
	case "53100", "53200":
		return full(path, err)
	case "53300":
		return &Error{InUse, fact.Say("store.the_server_of_takes_no", fact.Name("path", path)), fact.Say("store.close_some_or_have_more"), err}
	case "40001", "40P01", "55P03", "40003":
		return &Error{InUse, fact.Say("store.others_kept_writing_to_at", fact.Name("path", path)), fact.Say("store.try_again"), err}
	case "XX001", "XX002":
		return damaged(path, err)
	}
	return &Error{Failed, fact.Say("store.failed", fact.Word("doing", doing), fact.Name("path", path)), fact.Saying{}, err}
}

func readOnlyServer(path string, err error) error {
	return &Error{ReadOnly, fact.Say("store.may_not_be_written_by", fact.Name("path", path)), fact.Say("store.ask_whoever_keeps_the_server"), err}
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
