package cli

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/shop"
)

// speaks is the printer of words for a command: in the language of --lang, else
// the shop's, else the terminal's.
func speaks(c *cobra.Command, env *Env, state *shop.State) *say.Printer {
	asked := []string{""}
	if c != nil {
		if f := c.Flag("lang"); f != nil {
			asked[0] = f.Value.String()
		}
	}
	if state != nil {
		asked = append(asked, state.Shop.Language)
	}
	env.words = say.For(append(asked, terminalTongue(env))...)
	if state != nil && state.Shop.DecimalComma {
		env.words = env.words.WithComma()
	}
	return env.words
}

// speaks is the printer the command has chosen, else that of the terminal.
func (env *Env) speaks() *say.Printer {
	if env.words == nil {
		return speaks(nil, env, nil)
	}
	return env.words
}

// langFlag is a language there is.
type langFlag string

func (l *langFlag) String() string { return string(*l) }

// Type is shown in the help.
func (l *langFlag) Type() string { return "language" }

// Set refuses a language that the catalogue does not have.
func (l *langFlag) Set(text string) error {
	if !slices.Contains(say.Languages(), text) {
		return cannotBe(fact.Say("cli.language_none", fact.Name("text", text), fact.Name("languages", strings.Join(say.Languages(), " and "))))
	}
	*l = langFlag(text)
	return nil
}

// answers prints a document, writes it as JSON, or unfolds the figure that --why
// asks for.
func answers(c *cobra.Command, env *Env, p *say.Printer, d answer.Document) error {
	told := p.Document(d)
	if asJSON(c) {
		return writeJSON(env, told)
	}
	if why := c.Flags().Lookup("why"); why != nil && why.Value.String() != "" {
		return whyOf(c, env, told.AllFigures(), why.Value.String())
	}
	full, err := c.Flags().GetBool("full")
	printDocument(env, p, told, full && err == nil)
	return nil
}

// whyFlag lets a figure of the answer be unfolded; the key is one of them.
func whyFlag(c *cobra.Command, key string) {
	c.Flags().String("why", "", "")
	tells(c, "why", key)
}

// mostFigures and mostCautions are what is shown of them unless all is asked for.
const (
	mostFigures  = 6
	mostCautions = 2
)

// printDocument shows an answer in the order of a page: the answer, what to do,
// what could spoil it, what can hurt, the handful of figures a person acts on.
// All else waits for --full.
func printDocument(env *Env, p *say.Printer, d say.Document, full bool) {
	title := func(code string) { heading(env, "%s", p.Line(code)) }
	plain(env.Out, "%s", d.Answer)
	for _, r := range d.Head.Remedies {
		printRemedy(env, p, r)
	}
	if len(d.Steps) > 0 {
		title("print.steps")
	}
	for i, a := range d.Steps {
		printStep(env, p, i+1, a)
	}
	printFindings(env, p, "print.spoilers", d.Spoilers, len(d.Spoilers))
	most := mostCautions
	for i, c := range d.Cautions {
		if full || c.Weight >= 1 { // grave ones do not wait
			most = max(most, i+1)
		}
	}
	printFindings(env, p, "print.cautions", d.Cautions, most)
	figures := d.Figures
	if !full {
		figures = figures[:min(len(figures), mostFigures)]
	}
	if len(figures) > 0 {
		title("print.figures")
		printWorded(env, p, figures)
	}
	for _, t := range d.Tables {
		if t.Leads || full {
			printTable(env, t)
		}
	}
	if !full {
		if more := waiting(p, d); more != "" {
			plain(env.Out, "\n%s", more)
		}
		return
	}
	printBounds(env, p, d.Limits)
	for _, s := range d.Reasons {
		heading(env, "%s", s.Title)
		for _, n := range s.Notes {
			plain(env.Out, "  %s", n.Say)
		}
		if len(s.Figures) > 0 {
			printWorded(env, p, s.Figures)
		}
		for _, t := range s.Tables {
			printTable(env, t)
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
			printRemedy(env, p, r)
		}
	}
	if len(all) > most {
		plain(env.Out, "  %s", p.Line("print.more", fact.Count("n", len(all)-most)))
	}
}

func printRemedy(env *Env, p *say.Printer, r say.Line) {
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

func printTable(env *Env, t say.Table) {
	heading(env, "%s", t.Title)
	var head []string
	for _, c := range t.Columns {
		if c.Numbers {
			c.Name = ">" + c.Name
		}
		head = append(head, c.Name)
	}
	g := newGrid(env, head...)
	for _, r := range t.Rows {
		g.row(r...)
	}
	g.print()
	for _, n := range t.Notes {
		plain(env.Out, "  %s", n.Say)
	}
}

// waiting says what --full would show.
func waiting(p *say.Printer, d say.Document) string {
	n := len(d.Reasons) + len(d.Charts)
	if len(d.Limits) > 0 {
		n++
	}
	if len(d.Figures) > mostFigures {
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
