package address

import (
	"net/url"
	"strings"
)

// Segment makes a name safe as one step of an address.
func Segment(name any) string {
	switch n := name.(type) {
	case string:
		return url.PathEscape(n)
	default:
		return url.PathEscape(Number(n))
	}
}

// Local is the wanted address if it stays on this server, or else the
// other: a link from outside must not send a person elsewhere after a form.
func Local(wanted, other string) string {
	if !strings.HasPrefix(wanted, "/") || strings.HasPrefix(wanted, "//") || strings.ContainsAny(wanted, "\\\r\n\t") {
		return other
	}
	u, err := url.Parse(wanted)
	if err != nil || u.Host != "" || u.Scheme != "" {
		return other
	}
	return wanted
}

// Query makes a text safe as a value in an address.
func Query(s string) string { return url.QueryEscape(s) }
