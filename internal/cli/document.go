package cli

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/internal/store"
	"hopperful/shop"
)

// speaks is the printer of words for a command: in the language of --lang, else
// the shop's, else the terminal's.
func speaks(env *Env, state *shop.State) *say.Printer {
	if state != nil {
		env.hear(state)
	}
	return env.speaks()
}

// hear takes the language and the decimal sign of a shop.
func (env *Env) hear(state *shop.State) {
	env.heard = true
	env.words = env.printer(env.typed, state.Shop.Language, terminalTongue(env))
	if state.Shop.DecimalComma {
		env.words = env.words.WithComma()
	}
}

// mostHearing is how long a server may take to say a shop's language.
const mostHearing = 2 * time.Second

// hearShop asks the shop a command is about for its language, where the command was refused
// before it opened it. One that cannot be looked at has none.
func (env *Env) hearShop(ctx context.Context, path string) {
	if env.heard || path == "" {
		return
	}
	ctx, end := context.WithTimeout(ctx, mostHearing)
	defer end()
	if s, err := openStore(ctx, env, path, store.Options{ReadOnly: true}); err == nil {
		_ = s.Close() // only looked at
	}
}

// speaks is the printer the command has chosen, else that of the terminal.
func (env *Env) speaks() *say.Printer {
	if env.words == nil {
		env.words = env.printer(env.typed, terminalTongue(env))
	}
	return env.words
}

// printer is the printer of the first of those languages there is; numbers are for eyes
// where the answer is no program's.
func (env *Env) printer(asked ...string) *say.Printer {
	if env.raw {
		return say.For(asked...)
	}
	return say.For(asked...).ForEyes()
}

// langFlag is a language there is.
type langFlag string

func (l *langFlag) String() string { return string(*l) }

// Type is shown in the help.
func (l *langFlag) Type() string { return "language" }

// Set refuses a language that the catalogue does not have.
func (l *langFlag) Set(text string) error {
	if !slices.Contains(say.Languages(), text) {
		return cannotBe(fact.Say("cli.language_none", fact.Name("text", text), fact.Names("languages", say.Languages())))
	}
	*l = langFlag(text)
	return nil
}

// answers prints a document, writes it as JSON, or unfolds the figure that --why
// asks for.
func answers(c *cobra.Command, env *Env, p *say.Printer, d answer.Document) error {
	if env.told != nil {
		env.told(d)
	}
	told := p.Document(d)
	if asJSON(c) {
		return writeJSON(env, told)
	}
	if why := c.Flags().Lookup("why"); why != nil && why.Value.String() != "" {
		return whyOf(c, env, told.AllFigures(), why.Value.String())
	}
	if wantsFull(c) {
		printDocument(env, p, told, whole)
	} else {
		printShort(env, p, told)
	}
	return nil
}

// whyFlag lets a figure of the answer be unfolded; the key is one of them.
func whyFlag(c *cobra.Command, key string) {
	c.Flags().String("why", "", "")
	tells(c, "why", key)
}

// folding is how much of an answer is shown, grave cautions apart, which do not wait.
type folding struct{ cautions, figures, rows, spoilers, leads int }

// folds are tried in turn until the answer fits a terminal; whole is all there is. What to
// do is never folded.
var (
	folds = []folding{
		{2, 6, math.MaxInt, math.MaxInt, math.MaxInt}, {1, 6, math.MaxInt, math.MaxInt, math.MaxInt}, {1, 6, 4, math.MaxInt, math.MaxInt},
		{1, 4, 3, 3, math.MaxInt}, {1, 3, 2, 2, math.MaxInt}, {1, 3, 2, 2, 3}, {1, 2, 2, 1, 2}, {1, 2, 2, 1, 1}, {1, 0, 2, 1, 1},
	}
	whole = folding{math.MaxInt, math.MaxInt, math.MaxInt, math.MaxInt, math.MaxInt}
)

// afterwards is how many lines a command may add below an answer, such as what to type next.
const afterwards = 3

// printShort shows of an answer what fits a terminal.
func printShort(env *Env, p *say.Printer, d say.Document) {
	for i, fold := range folds {
		var trial strings.Builder
		short := *env
		short.Out = &trial
		printDocument(&short, p, d, fold)
		if i == len(folds)-1 || env.width() == 0 || height(strings.TrimSuffix(trial.String(), "\n"), env.width()) <= mostLines-afterwards {
			fmt.Fprint(env.Out, trial.String())
			return
		}
	}
}

// printDocument shows an answer in the order of a page: the answer, what to do,
// what could spoil it, what can hurt, the handful of figures a person acts on.
// All else waits for --full.
func printDocument(env *Env, p *say.Printer, d say.Document, fold folding) {
	full := fold == whole
	title := func(code string) { heading(env, "%s", p.Line(code)) }
	plain(env.Out, "%s", d.Answer)
	for _, r := range d.Head.Remedies[:min(len(d.Head.Remedies), fold.leads)] {
		printRemedy(env, r)
	}
	if len(d.Steps) > 0 {
		title("print.steps")
	}
	for i, a := range d.Steps {
		printStep(env, p, i+1, a)
	}
	printFindings(env, p, "print.spoilers", d.Spoilers, fold.spoilers)
	most := fold.cautions
	for i, c := range d.Cautions {
		if c.Weight >= 1 {
			most = max(most, i+1)
		}
	}
	printFindings(env, p, "print.cautions", d.Cautions, most)
	if figures := d.Figures[:min(len(d.Figures), fold.figures)]; len(figures) > 0 {
		title("print.figures")
		printWorded(env, p, figures)
	}
	for _, t := range d.Tables {
		if t.Leads || full {
			printTable(env, t, fold.rows)
		}
	}
	if !full {
		if more := waiting(p, d, fold); more != "" {
			plain(env.Out, "\n%s", more)
		}
		return
	}
	printBounds(env, p, d.Limits)
	for _, s := range d.Reasons {
		heading(env, "%s", s.Title)
		for _, n := range s.Notes {
			plain(env.Out, "  %s", n.Say)
			if how := commandFor(n.Saying); how != "" {
				plain(env.Out, "  %s", how)
			}
		}
		if len(s.Figures) > 0 {
			printWorded(env, p, s.Figures)
		}
		for _, t := range s.Tables {
			printTable(env, t, fold.rows)
		}
	}
	if len(d.Charts) > 0 {
		title("print.charts")
		for _, c := range d.Charts {
			plain(env.Out, "  %s: %s", c.Title, c.Summary)
		}
	}
}

func printStep(env *Env, p *say.Printer, n int, a say.Action) {
	text := a.Say
	if a.Takes != nil {
		text += " (" + p.Number(a.Takes.Shown()) + ")"
	}
	text = sentence(text)
	if a.Why != nil {
		text += " " + sentence(a.Why.Say)
	}
	plain(env.Out, "%3d. %s", n, text)
	if how := commandFor(a.Saying); how != "" {
		plain(env.Out, "     %s", how)
	}
}

func printFindings(env *Env, p *say.Printer, title string, all []say.Finding, most int) {
	if len(all) == 0 {
		return
	}
	heading(env, "%s", p.Line(title))
	for _, f := range all[:min(len(all), most)] {
		plain(env.Out, "  %s", sentence(f.Say))
		for _, r := range f.Remedies {
			printRemedy(env, r)
		}
	}
	if len(all) > most {
		plain(env.Out, "  %s", p.Line("print.more", fact.Count("n", len(all)-most)))
	}
}

func printRemedy(env *Env, r say.Line) {
	plain(env.Out, "    %s", sentence(r.Say))
	if how := commandFor(r.Saying); how != "" {
		plain(env.Out, "    %s", how)
	}
}

// printWorded is the table every set of figures is shown in.
func printWorded(env *Env, p *say.Printer, figures []figure.Figure) {
	g := newGrid(env, p.Line("print.what"), ">"+p.Line("print.value"), ">"+p.Line("print.range"), p.Line("print.from"))
	for _, f := range figures {
		value := p.Number(f.Shown())
		if f.Limit != nil {
			value += ", " + p.Bound(f)
		}
		g.row(f.Name, value, p.Number(f.ShownRange()), p.Origin(f))
	}
	g.print()
}

func printBounds(env *Env, p *say.Printer, limits []say.Bound) {
	if len(limits) == 0 {
		return
	}
	heading(env, "%s", p.Line("print.limits"))
	g := newGrid(env, p.Line("print.what"), ">"+p.Line("print.value"), ">"+p.Line("print.bound"), p.Line("print.holds"), "")
	for _, b := range limits {
		var note []string
		if b.Binds {
			note = append(note, p.Line("print.binds"))
		}
		if b.Relax != nil {
			note = append(note, b.Relax.Say)
		}
		g.row(b.Figure.Name, p.WithRange(b.Figure), p.Bound(b.Figure), b.Holds, strings.Join(note, " "))
	}
	g.print()
}

func printTable(env *Env, t say.Table, most int) {
	heading(env, "%s", t.Title)
	var head []string
	for _, c := range t.Columns {
		if c.Numbers {
			c.Name = ">" + c.Name
		}
		head = append(head, c.Name)
	}
	g := newGrid(env, head...)
	for _, r := range t.Rows[:min(len(t.Rows), most)] {
		g.row(r...)
	}
	g.print()
	if len(t.Rows) > most {
		plain(env.Out, "%s", env.speaks().Line("print.more_rows", fact.Count("n", len(t.Rows)-most)))
	}
	for _, n := range t.Notes {
		plain(env.Out, "  %s", n.Say)
	}
}

// waiting says what --full would show.
func waiting(p *say.Printer, d say.Document, fold folding) string {
	n := len(d.Reasons) + len(d.Charts)
	if len(d.Limits) > 0 {
		n++
	}
	if len(d.Figures) > fold.figures {
		n++
	}
	for _, t := range d.Tables {
		if !t.Leads {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return p.Line("print.full")
}
