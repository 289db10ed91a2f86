package cli

import (
	"fmt"
	"io"
	"sort"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/spf13/cobra"

	"hopperful/fact"
)

// grid is a table for people. Numbers are given as text, already in their
// workshop units.
type grid struct {
	env     *Env
	head    []string
	numbers []bool
	rows    [][]string
}

// newGrid starts a table with the given headings, codes of the catalogue or words. A heading that starts with
// ">" is of a column of numbers, set flush right.
func newGrid(env *Env, headings ...string) *grid {
	g := &grid{env: env}
	for _, h := range headings {
		name, numbers := strings.CutPrefix(h, ">")
		g.head, g.numbers = append(g.head, env.speaks().Word(name)), append(g.numbers, numbers)
	}
	return g
}

// row adds a line.
func (g *grid) row(cells ...string) { g.rows = append(g.rows, cells) }

// gap is the space between two columns, and narrow how far a column of words may
// be squeezed before the rows are better told one by one.
const (
	gap    = 2
	narrow = 14
)

// print writes the table without frames, which screen readers and grep like. It
// is never wider than the terminal: columns of words wrap, and where that is not
// enough each row is told as a list.
func (g *grid) print() { fmt.Fprintln(g.env.Out, g.render(g.rows)) }

// mostLines is how long an answer is on a terminal before someone asks for more.
const mostLines = 45

// fold is print for a long list: what does not fit into so many lines waits for --full, at
// its beginning where the newest rows come last. A pipe gets all of it.
func (g *grid) fold(c *cobra.Command, lines int, newestLast bool) {
	hidden := 0
	if g.env.width() > 0 && !wantsFull(c) {
		hidden = sort.Search(len(g.rows), func(n int) bool {
			shown := g.kept(n, newestLast)
			return len(shown) == 1 || height(g.render(shown), g.env.width())+min(n, 1) <= lines
		})
	}
	told := func(code string) {
		if hidden > 0 {
			plain(g.env.Out, "%s", g.env.speaks().Line(code, fact.Count("n", hidden)))
		}
	}
	if newestLast {
		told("print.earlier_rows")
	}
	fmt.Fprintln(g.env.Out, g.render(g.kept(hidden, newestLast)))
	if !newestLast {
		told("print.more_rows")
	}
}

// kept are the rows without n of them.
func (g *grid) kept(n int, newestLast bool) [][]string {
	if newestLast {
		return g.rows[n:]
	}
	return g.rows[:len(g.rows)-n]
}

// height is how many lines of a terminal a text takes.
func height(shown string, width int) int {
	n := 0
	for _, line := range strings.Split(shown, "\n") {
		n += 1 + strings.Count(wrap(line, width), "\n")
	}
	return n
}

// wantsFull reports whether all was asked for.
func wantsFull(c *cobra.Command) bool {
	full, err := c.Flags().GetBool("full")
	return err == nil && full
}

// render is the table of some of its rows.
func (g *grid) render(rows [][]string) string {
	widths, fits := g.widths(g.env.width())
	if !fits {
		return g.tell(rows)
	}
	w := table.NewWriter()
	head, columns := table.Row{}, []table.ColumnConfig{}
	for i, h := range g.head {
		c := table.ColumnConfig{Number: i + 1}
		if g.numbers[i] {
			c.Align, c.AlignHeader = text.AlignRight, text.AlignRight
		}
		if g.env.width() > 0 {
			c.WidthMax, c.WidthMaxEnforcer = widths[i], text.WrapSoft
		}
		head, columns = append(head, h), append(columns, c)
	}
	w.AppendHeader(head)
	for _, r := range rows {
		row := table.Row{}
		for _, c := range r {
			row = append(row, c)
		}
		w.AppendRow(row)
	}
	style := table.StyleDefault
	style.Options = table.OptionsNoBordersAndSeparators
	style.Box.PaddingLeft, style.Box.PaddingRight = "", strings.Repeat(" ", gap)
	style.Format.Header = text.FormatDefault
	if coloured(g.env) {
		style.Color.Header = text.Colors{text.Faint}
	}
	w.SetStyle(style)
	w.SetColumnConfigs(columns)
	w.SuppressTrailingSpaces()
	return w.Render()
}

// widths shares the terminal's columns out: every column what it wants, and if
// that is too much, the widest give first. Numbers never break; their headings may.
func (g *grid) widths(most int) (widths []int, fits bool) {
	var least []int
	total := 0
	for i, h := range g.head {
		want, word := text.StringWidthWithoutEscSequences(h), longestWord(h)
		cells := 0
		for _, r := range g.rows {
			if i < len(r) {
				cells = max(cells, text.StringWidthWithoutEscSequences(r[i]))
				word = max(word, longestWord(r[i]))
			}
		}
		want = max(want, cells)
		low := max(longestWord(h), cells)
		if !g.numbers[i] {
			low = min(want, max(word, narrow))
		}
		widths, least, total = append(widths, want), append(least, low), total+want
	}
	if most == 0 {
		return widths, true
	}
	for total+gap*(len(widths)-1) > most {
		widest := -1
		for i := range widths {
			if widths[i] > least[i] && (widest < 0 || widths[i] > widths[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			return widths, false
		}
		widths[widest]--
		total--
	}
	return widths, true
}

func longestWord(s string) int {
	n := 0
	for _, w := range strings.Fields(s) {
		n = max(n, text.StringWidthWithoutEscSequences(w))
	}
	return n
}

// tell is each row as a list under its first cell.
func (g *grid) tell(rows [][]string) string {
	var lines []string
	for _, r := range rows {
		lines = append(lines, r[0])
		for i, c := range r[1:] {
			if c != "" {
				lines = append(lines, "  "+strings.TrimSpace(g.head[i+1]+": "+c))
			}
		}
	}
	return strings.Join(lines, "\n")
}

// coloured says whether the answer may carry colour: on a terminal, unless
// NO_COLOR is set to anything (https://no-color.org) or the terminal is dumb.
func coloured(env *Env) bool {
	return env.OutTerminal && env.Getenv("NO_COLOR") == "" && env.Getenv("TERM") != "dumb"
}

// heading prints a line over a table.
func heading(env *Env, format string, args ...any) {
	line := fmt.Sprintf(format, args...)
	if coloured(env) {
		text.EnableColors()
		line = text.Bold.Sprint(line)
	}
	fmt.Fprintf(env.Out, "\n%s\n", line)
}

// plain prints one line of the answer.
func plain(w io.Writer, format string, args ...any) {
	fmt.Fprintf(w, format+"\n", args...)
}
