package cli

import (
	"fmt"
	"io"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// grid is a table for people. Numbers are given as text, already in their
// workshop units.
type grid struct {
	env     *Env
	writer  table.Writer
	columns []table.ColumnConfig
}

// widest is how wide a column of words gets on a terminal before it wraps; in a
// pipe every row stays on its line.
const widest = 44

// newGrid starts a table with the given headings. A heading that starts with
// ">" is of a column of numbers, set flush right.
func newGrid(env *Env, headings ...string) *grid {
	g := &grid{env: env, writer: table.NewWriter()}
	row := table.Row{}
	for i, h := range headings {
		if strings.HasPrefix(h, ">") {
			h = h[1:]
			g.columns = append(g.columns, table.ColumnConfig{Number: i + 1, Align: text.AlignRight, AlignHeader: text.AlignRight})
		}
		if env.OutTerminal && !strings.HasPrefix(headings[i], ">") {
			g.columns = append(g.columns, table.ColumnConfig{Number: i + 1, WidthMax: widest, WidthMaxEnforcer: text.WrapSoft})
		}
		row = append(row, h)
	}
	g.writer.AppendHeader(row)
	return g
}

// row adds a line.
func (g *grid) row(cells ...string) {
	row := table.Row{}
	for _, c := range cells {
		row = append(row, c)
	}
	g.writer.AppendRow(row)
}

// print writes the table without frames, which screen readers and grep like.
func (g *grid) print() {
	style := table.StyleDefault
	style.Options = table.OptionsNoBordersAndSeparators
	style.Box.PaddingLeft, style.Box.PaddingRight = "", "  "
	style.Format.Header = text.FormatDefault
	if coloured(g.env) {
		style.Color.Header = text.Colors{text.Faint}
	}
	g.writer.SetStyle(style)
	g.writer.SetColumnConfigs(g.columns)
	g.writer.SuppressTrailingSpaces()
	fmt.Fprintln(g.env.Out, g.writer.Render())
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
