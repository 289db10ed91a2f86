package site

import (
	"regexp"
	"strings"
	"unicode/utf8"
)

// mostUnit is how long a word behind a number may be to be taken for its unit.
const mostUnit = 4

// Together keeps a number and its unit on one line, and a level with its
// number: the space before a short word behind a digit does not break, nor does a day
// written 2026-11-25. Powers of ten are raised.
func Together(text string) string {
	words := strings.Split(power.ReplaceAllStringFunc(day.ReplaceAllString(text, "$1-\u2060$2-\u2060$3"), raised), " ")
	var b strings.Builder
	for i, w := range words {
		if i > 0 {
			last := words[i-1]
			bare := strings.TrimRight(w, ".,;:)")
			unit := last != "" && digit(last[len(last)-1]) && w != "" && !digit(w[0]) && utf8.RuneCountInString(bare) <= mostUnit
			if unit || last == "level" || last == "Stufe" {
				b.WriteString("\u00a0")
			} else {
				b.WriteByte(' ')
			}
		}
		b.WriteString(w)
	}
	return b.String()
}

// day is a day as the standard ISO 8601 writes it.
var day = regexp.MustCompile(`\b([0-9]{4})-([0-9]{2})-([0-9]{2})\b`)

// power is a number as programs write large and small ones: 2.0e-11.
var power = regexp.MustCompile(`[0-9]e[-+][0-9]+`)

// raised writes it as people do: 2.0 × 10⁻¹¹.
func raised(text string) string {
	number, exponent, _ := strings.Cut(text, "e")
	sign := strings.TrimLeft(exponent[:1], "+")
	return number + "\u00a0×\u00a010" + superscript.Replace(sign+strings.TrimLeft(exponent[1:], "0"))
}

var superscript = strings.NewReplacer("-", "⁻", "0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴", "5", "⁵", "6", "⁶", "7", "⁷", "8", "⁸", "9", "⁹")

func digit(c byte) bool { return c >= '0' && c <= '9' }
