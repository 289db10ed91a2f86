package cli

import (
	"io"
	"strconv"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"
)

// leastWidth is the narrowest terminal that lines are wrapped for; below it a
// line would hold hardly a word.
const leastWidth = 24

// width is how many columns the answer may take; 0 where every row stays on its
// line, as in a pipe. COLUMNS comes before what the terminal says.
func (env *Env) width() int {
	if env.raw {
		return 0
	}
	if env.Getenv != nil {
		if n, err := strconv.Atoi(env.Getenv("COLUMNS")); err == nil && n > 0 {
			return max(n, leastWidth)
		}
	}
	if !env.OutTerminal || env.Columns <= 0 {
		return 0
	}
	return max(env.Columns, leastWidth)
}

// wrapping breaks the lines that pass through it to the terminal's width. A line
// that goes on is set under its own beginning.
type wrapping struct {
	w    io.Writer
	env  *Env
	rest string // of a line that has not ended yet
}

// Write passes on every line that has ended.
func (w *wrapping) Write(b []byte) (int, error) {
	width := w.env.width()
	if width == 0 && w.rest == "" {
		return w.w.Write(b)
	}
	w.rest += string(b)
	for {
		line, rest, ended := strings.Cut(w.rest, "\n")
		if !ended {
			return len(b), nil
		}
		w.rest = rest
		if _, err := io.WriteString(w.w, wrap(line, width)+"\n"); err != nil {
			return 0, err
		}
	}
}

// flush passes on a last line that has no end.
func (w *wrapping) flush() error {
	_, err := io.WriteString(w.w, wrap(w.rest, w.env.width()))
	w.rest = ""
	return err
}

// wrap breaks a line at spaces; what holds none, such as an address, stays whole.
func wrap(line string, width int) string {
	if width == 0 || text.StringWidthWithoutEscSequences(line) <= width {
		return line
	}
	pad := hanging(line)
	if pad > width/2 {
		pad = 0
	}
	var out strings.Builder
	column := 0
	words, first := strings.Split(line, " "), true
	for i := 0; i < len(words); i++ {
		word := words[i]
		if i+1 < len(words) && isUnit(word, words[i+1]) { // a number keeps its unit
			i++
			word += " " + words[i]
		}
		n := text.StringWidthWithoutEscSequences(word)
		switch {
		case first:
			first = false
		case column+1+n > width && column > pad:
			out.WriteString("\n" + strings.Repeat(" ", pad))
			column = pad
		default:
			out.WriteByte(' ')
			column++
		}
		out.WriteString(word)
		column += n
	}
	return out.String()
}

// isUnit reports whether a word is the unit of the number before it.
func isUnit(number, word string) bool {
	const longest = 4
	last := strings.TrimLeft(number, "0123456789.,–-+(")
	return number != "" && last == "" && word != "" && strings.Trim(word[:1], "0123456789(") != "" && len([]rune(strings.TrimRight(word, ".,;:)"))) <= longest
}

// hanging is how far the words of a line stand in: its blanks, and the number of
// a step.
func hanging(line string) int {
	body := strings.TrimLeft(line, " ")
	pad := len(line) - len(body)
	digits := len(body) - len(strings.TrimLeft(body, "0123456789"))
	if digits > 0 && digits <= 3 && strings.HasPrefix(body[digits:], ".") {
		pad += digits + len(". ")
	}
	return pad
}
