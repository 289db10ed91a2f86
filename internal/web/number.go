package web

import (
	"net/url"
	"strings"
	"unicode/utf8"
)

// localised puts the shop's decimal mark into a text made for people: a point
// between two digits becomes a comma. A point in a longer chain of numbers, as
// in an address or a date, stays.
func localised(text string, comma bool) string {
	if !comma || !strings.Contains(text, ".") {
		return text
	}
	b := []byte(text)
	for i := 1; i < len(b)-1; i++ {
		if b[i] == '.' && digit(b[i-1]) && digit(b[i+1]) && !chained(b, i) {
			b[i] = ','
		}
	}
	return string(b)
}

// chained reports whether another point belongs to the same run of digits.
func chained(b []byte, at int) bool {
	l, r := at-1, at+1
	for l >= 0 && digit(b[l]) {
		l--
	}
	for r < len(b) && digit(b[r]) {
		r++
	}
	left := l > 0 && (b[l] == '.' || b[l] == ',') && digit(b[l-1])
	right := r < len(b)-1 && b[r] == '.' && (digit(b[r+1]) || r < len(b)-2 && b[r+1] == ' ' && digit(b[r+2])) // 31.08. 10:00
	return left || right
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

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

// mostUnit is how long a word behind a number may be to be taken for its unit.
const mostUnit = 4

// together keeps a number and its unit on one line, and a level with its
// number: the space before a short word behind a digit does not break.
func together(text string) string {
	words := strings.Split(text, " ")
	var b strings.Builder
	for i, w := range words {
		if i > 0 {
			last := words[i-1]
			bare := strings.TrimRight(w, ".,;:)")
			unit := last != "" && digit(last[len(last)-1]) && w != "" && !digit(w[0]) && utf8.RuneCountInString(bare) <= mostUnit
			if unit || last == "level" {
				b.WriteString("\u00a0")
			} else {
				b.WriteByte(' ')
			}
		}
		b.WriteString(w)
	}
	return b.String()
}

func queryEscape(s string) string { return url.QueryEscape(s) }
