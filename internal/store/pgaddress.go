package store

import (
	"hopperful/fact"

	"errors"
	"net"
	"net/url"
	"regexp"
	"strings"

	"github.com/jackc/pgx/v5"
)

// mostAddress bounds the address of a shop on a server.
const mostAddress = 2000

// shopName is what a shop on a server may be called; the table holds it to the same.
var shopName = regexp.MustCompile(`^[a-z0-9][a-z0-9._-]{0,99}$`)

// OnServer says whether a shop is named by the address of a PostgreSQL server,
// and not by a file.
func OnServer(path string) bool {
	return strings.HasPrefix(path, "postgres://") || strings.HasPrefix(path, "postgresql://")
}

// pgAddress is where a shop on a server lies: postgres://USER@HOST/DATABASE#SHOP.
type pgAddress struct {
	config *pgx.ConnConfig
	name   string // of the shop
	shown  string // the address without passphrase and settings, for people
}

// Shown is how a shop is named where others may read it: without the passphrase
// that the address of a server may hold.
func Shown(path string) string {
	if !OnServer(path) {
		return path
	}
	u, err := url.Parse(path)
	if err != nil {
		return "postgres://…"
	}
	return shownURL(u)
}

func shownURL(u *url.URL) string {
	plain := url.URL{Scheme: u.Scheme, Host: u.Host, Path: u.Path, Fragment: u.Fragment}
	if u.User != nil {
		plain.User = url.User(u.User.Username())
	}
	return plain.String()
}

// readAddress reads the address of a shop on a server. What the libraries say of a
// bad one is not passed on: it may quote the passphrase.
func readAddress(path string) (pgAddress, error) {
	bad := func(what, advice fact.Saying) (pgAddress, error) {
		return pgAddress{}, &Error{Foreign, what, advice, nil}
	}
	like := fact.Say("store.address_looks_like")
	if len(path) > mostAddress {
		return bad(fact.Say("store.address_too_long"), like)
	}
	u, err := url.Parse(path)
	if err != nil {
		return bad(fact.Say("store.address_unread"), fact.Say("store.address_signs"))
	}
	name := u.Fragment
	u.Fragment, u.RawFragment = "", ""
	config, err := pgx.ParseConfig(u.String())
	if err != nil {
		return bad(fact.Say("store.address_setting"), like)
	}
	if name == "" {
		return bad(fact.Say("store.address_no_shop"), fact.Say("store.add_its_name", fact.Name("address", shownURL(u)+"#lantern")))
	}
	if !shopName.MatchString(name) {
		return bad(fact.Say("store.not_a_server_name"), fact.Say("store.use_small_letters"))
	}
	for setting, value := range map[string]string{
		"application_name":                    "hopperful",
		"idle_in_transaction_session_timeout": "60000", // ms: a hopperful that hangs lets the others write on
		"lock_timeout":                        "20000",
	} {
		if config.RuntimeParams[setting] == "" {
			config.RuntimeParams[setting] = value
		}
	}
	if config.ConnectTimeout == 0 {
		config.ConnectTimeout = connectTime
	}
	u.Fragment = name
	return pgAddress{config, name, shownURL(u)}, nil
}

// local says whether the server is on this computer, so that nothing is on a wire.
func (a pgAddress) local() bool {
	ip := net.ParseIP(a.config.Host)
	return strings.HasPrefix(a.config.Host, "/") || a.config.Host == "localhost" || ip != nil && ip.IsLoopback()
}

// errElsewhere is what a write finds when its shop was put aside or moved meanwhile.
var errElsewhere = errors.New("the shop has another name now")
