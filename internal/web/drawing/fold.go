package drawing

import (
	"strings"
	"unicode/utf8"
)

// Fold breaks a text into at most so many lines of so many letters; what does
// not fit ends in dots.
func Fold(text string, letters, lines int) []string {
	var list []string
	for _, w := range strings.Fields(text) {
		n := len(list) - 1
		if n >= 0 && utf8.RuneCountInString(list[n])+1+utf8.RuneCountInString(w) <= letters {
			list[n] += " " + w
			continue
		}
		list = append(list, w)
	}
	cut := len(list) > lines
	if cut {
		list = list[:lines]
	}
	for i, line := range list {
		r := []rune(line)
		last := cut && i == lines-1
		switch {
		case len(r) > letters || last && len(r) >= letters:
			list[i] = strings.TrimRight(string(r[:letters-1]), ",;") + "…"
		case last:
			list[i] = strings.TrimRight(line, ",;") + "…"
		}
	}
	return list
}
