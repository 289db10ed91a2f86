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
			return &Error{Failed, fact.Say("store.server_wants_encryption", fact.Name("path", path)), fact.Say("store.do_sslmode"), nil}
		}
		return explainCode(said.Code, errors.New(said.Message), doing, path)
	}
	if e := unsafe(err, path); e != nil {
		return e
	}
	switch {
	case errors.Is(err, errElsewhere):
		return &Error{Missing, fact.Say("store.shop_moved", fact.Name("path", path)), fact.Say("store.do_look_where"), nil}
	case errors.As(err, &refused), lost(err):
		return &Error{Failed, fact.Say("store.server_unreached", fact.Name("path", path), fact.Parts("why", cause(err))), fact.Say("store.do_check_server"), nil}
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
		return &Error{Failed, fact.Say("store.certificate_untrusted", fact.Name("path", path)),
			fact.Say("store.do_trust_certificate"), nil}
	case errors.As(err, &other):
		return &Error{Failed, fact.Say("store.certificate_other_name", fact.Name("path", path)), fact.Say("store.do_name_in_certificate"), nil}
	case errors.As(err, &invalid):
		return &Error{Failed, fact.Say("store.certificate_invalid", fact.Name("path", path)),
			fact.Say("store.do_renew_certificate"), nil}
	case err != nil && strings.Contains(err.Error(), "refused TLS connection"): // pgconn has no type for it
		return &Error{Failed, fact.Say("store.server_without_encryption", fact.Name("path", path)),
			fact.Say("store.do_turn_on_ssl"), nil}
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
		return &Error{Failed, fact.Say("store.server_refuses_user", fact.Name("path", path)), fact.Say("store.do_check_user"), err}
	case "3D000":
		return &Error{Missing, fact.Say("store.no_database", fact.Name("path", path)), fact.Say("store.do_create_database"), err}
	case "3F000", "42P01":
		return &Error{Missing, fact.Say("store.no_shop_file", fact.Name("path", path)), fact.Say("store.do_start_or_address"), err}
	case "42501", "25006":
		return readOnlyServer(path, err)
	case "53100", "53200":
		return full(path, err)
	case "53300":
		return &Error{InUse, fact.Say("store.server_full", fact.Name("path", path)), fact.Say("store.do_close_some"), err}
	case "40001", "40P01", "55P03", "40003":
		return &Error{InUse, fact.Say("store.written_meanwhile", fact.Name("path", path)), fact.Say("store.try_again"), err}
	case "XX001", "XX002":
		return damaged(path, err)
	}
	return &Error{Failed, fact.Say("store.failed", fact.Word("doing", doing), fact.Name("path", path)), fact.Saying{}, err}
}

func readOnlyServer(path string, err error) error {
	return &Error{ReadOnly, fact.Say("store.not_writable_by_user", fact.Name("path", path)), fact.Say("store.do_ask_for_right"), err}
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
