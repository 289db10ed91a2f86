package web

import (
	"net/url"
	"strings"
)

// pathSegment makes a name safe as one step of an address.
func pathSegment(name any) string {
	switch n := name.(type) {
	case string:
		return url.PathEscape(n)
	default:
		return url.PathEscape(toString(n))
	}
}

// localPath is the wanted address if it stays on this server, or else the
// other: a link from outside must not send a person elsewhere after a form.
func localPath(wanted, other string) string {
	if !strings.HasPrefix(wanted, "/") || strings.HasPrefix(wanted, "//") || strings.ContainsAny(wanted, "\\\r\n\t") {
		return other
	}
	u, err := url.Parse(wanted)
	if err != nil || u.Host != "" || u.Scheme != "" {
		return other
	}
	return wanted
}

func queryEscape(s string) string { return url.QueryEscape(s) }
