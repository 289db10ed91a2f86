package site

import (
	"strings"
	"unicode/utf8"
)

// mostUnit is how long a word behind a number may be to be taken for its unit.
const mostUnit = 4

// Together keeps a number and its unit on one line, and a level with its
// number: the space before a short word behind a digit does not break.
func Together(text string) string {
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

func digit(c byte) bool { return c >= '0' && c <= '9' }
