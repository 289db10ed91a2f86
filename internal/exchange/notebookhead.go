package exchange

import (
	"regexp"
	"strings"

	"hopperful/quantity"
)

// place of a part in a table.
type pillar struct {
	at   int // column
	part part
	unit string // "" when none stands there
	pan  bool   // weighed with the pan
	word string // as written
}

// unitAtEnd is a unit after the words of a heading, without brackets.
var unitAtEnd = regexp.MustCompile(`^(.*?\S)\s+(?:in\s+)?(mg|g|kg|oz|lb|s|sec|min|h|°c|c|k|°f|mm|cm|wh|kwh|j|kj|%)$`)

// pillarOf understands one heading.
func pillarOf(at int, text string) (pillar, bool) {
	c := pillar{at: at, word: text}
	word := lower(text)
	if m := bracketed.FindStringSubmatch(word); m != nil {
		inside := strings.TrimSpace(m[2])
		if isUnit(inside) {
			word, c.unit = strings.TrimSpace(m[1]+" "+m[3]), inside
		} else {
			word = strings.TrimSpace(m[1] + " " + inside + " " + m[3])
		}
	} else if m := unitAtEnd.FindStringSubmatch(word); m != nil && isUnit(m[2]) {
		word, c.unit = m[1], m[2]
	}
	word = strings.Trim(word, " :.,/*")
	for _, end := range withPan {
		if rest, ok := strings.CutSuffix(word, end); ok && strings.TrimSpace(rest) != "" {
			word, c.pan = strings.Trim(rest, " ,:/"), true
		} else if word == end {
			word, c.pan = "mass", true
		}
	}
	var ok bool
	c.part, ok = partWords[word]
	switch {
	case !ok:
		return c, false
	case c.part == inTime && c.unit != "": // "time (s)": how long, not when
		c.part = inRun
	case c.part == inRest && quantityUnit(quantity.Mass, c.unit): // German "Rest (g)": what stayed
		c.part = inLeft
	}
	return c, true
}

// isUnit reports whether a text is a unit of anything a notebook holds.
func isUnit(text string) bool {
	for _, m := range measured {
		if quantityUnit(m.kind, text) {
			return true
		}
	}
	return false
}

// quantityUnit reports whether a text is a unit of that kind.
func quantityUnit(kind quantity.Kind, text string) bool {
	if text == "" {
		return false
	}
	_, err := kind.ParseOr("1", text)
	return err == nil && len(kind.Units()) > 0
}

// fewestHeads is how many headings must be understood before a line is taken for
// the headings of a notebook: a line of values may hold a word or two.
const fewestHeads = 3

// pillarsOf understands a line as the headings of a notebook, if it is.
func pillarsOf(cells []string) (known []pillar, unknown []pillar, ok bool) {
	dated := false
	for i, text := range cells {
		if text == "" {
			continue
		}
		if c, found := pillarOf(i, text); found {
			known, dated = append(known, c), dated || c.part == inDate
			continue
		}
		unknown = append(unknown, pillar{at: i, word: text})
	}
	return known, unknown, len(known) >= fewestHeads || dated && len(known) == 2
}
