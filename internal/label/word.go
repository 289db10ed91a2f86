package label

import (
	"net/url"
	"strings"

	"hopperful/internal/say"
	"hopperful/plan/label"
)

// Worded is a lot's sticker in words; its code leads to the lot's page at base, the
// address the pages are reached by.
func Worded(p *say.Printer, l label.Label, base string) Sticker {
	s := Sticker{Head: string(l.Lot), Link: strings.TrimSuffix(base, "/") + "/stock/" + url.PathEscape(string(l.Lot))}
	for _, line := range l.Lines {
		if text := strings.TrimSpace(p.Say(line)); text != "" {
			s.Lines = append(s.Lines, text)
		}
	}
	return s
}

// Base reads the address the pages are reached by: http or https, and nothing but a
// host behind it.
func Base(text string) (string, bool) {
	u, err := url.Parse(strings.TrimSpace(text))
	if err != nil || u.Host == "" || u.Scheme != "http" && u.Scheme != "https" || u.User != nil || u.RawQuery != "" || u.Fragment != "" || strings.Trim(u.Path, "/") != "" {
		return "", false
	}
	return u.Scheme + "://" + u.Host, true
}
