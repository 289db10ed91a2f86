package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/plan"
	"hopperful/plan/sieving"
	"hopperful/shop"
)

func learnCommand(env *Env) *cobra.Command {
	var mill, why string
	c := &cobra.Command{
		Use:   "learn",
		Short: "What the mill's own runs have taught, and how well it forecasts",
		Long: `Shows what is believed of a mill: each parameter from the books' range to what
your runs have made of it, which records moved it, the last runs against what all
the others say of them, readings that look like slips, and how the blade wears.
Whether the screen may be torn stands below.`,
		Example: `  hopperful learn
  hopperful learn --mill Rattle --why break_rate
  hopperful learn --json`,
		Args: takes(0, 0, "flags only"),
		RunE: func(c *cobra.Command, _ []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			l, err := plan.Learn(state, mill)
			if err != nil {
				return err
			}
			screen, err := sieving.Screen(state, l.Mill)
			switch {
			case err != nil:
				return err
			case asJSON(c):
				return writeJSON(env, struct {
					plan.Learning
					Screen say.Document `json:"screen"`
				}{l, speaks(c, env, state).Document(screen.Document)})
			case why != "":
				return whyLearned(c, env, l, why)
			}
			printLearning(env, l)
			printScreen(c, env, speaks(c, env, state), screen)
			return nil
		},
	}
	c.Flags().StringVar(&mill, "mill", "", "name of the mill; empty: the first in use")
	c.Flags().StringVar(&why, "why", "", "unfold the parameter of this key, such as break_rate; all: every one")
	shopFlag(c)
	completesFlag(c, env, "mill", millsInUse)
	return c
}

// printLearning shows what was learned: the answer, what looks wrong, forecast
// against actual, the parameters, the blade.
func printLearning(env *Env, l plan.Learning) {
	plain(env.Out, "%s", l.Answer)
	if len(l.Suspicious) > 0 {
		heading(env, "Look at these again")
		for _, s := range l.Suspicious {
			plain(env.Out, "  %s", sentence(s.Say))
		}
	}
	if len(l.Forecasts) > 0 {
		heading(env, "Forecast against actual, newest first")
		t := newGrid(env, "record", "when", "what", ">forecast", ">8 of 10 times", ">actual", "")
		for _, f := range l.Forecasts {
			record, when := fmt.Sprint(f.Record), f.At.Format("2006-01-02 15:04")
			if f.Stalled {
				t.row(record, when, "the run", "", "", "stalled", "")
				record, when = "", ""
			}
			for _, r := range f.Read {
				t.row(record, when, r.Forecast.Name, r.Forecast.Shown(), r.Forecast.ShownRange(), r.Actual.Shown(), insideWord(r))
				record, when = "", ""
			}
		}
		t.print()
		plain(env.Out, "  %s", l.Calibration.Verdict)
	}
	heading(env, "What it believes")
	t := newGrid(env, "of", "what", ">books", ">8 of 10 times", ">now", ">8 of 10 times", "from", "moved most by records")
	for _, p := range l.Parameters {
		of := p.Polymer
		if of == "" {
			of = l.Mill
		}
		t.row(of, p.Now.Name, p.Book.Shown(), p.Book.ShownRange(), p.Now.Shown(), p.Now.ShownRange(), p.Now.Origin(), movers(p.Moved))
	}
	t.print()
	heading(env, "The blade")
	plain(env.Out, "  %s", sentence(l.Wear.Verdict))
	if len(l.Unread) > 0 {
		heading(env, "Runs that could not teach")
		for _, u := range l.Unread {
			plain(env.Out, "  %d: %s", u.Record, sentence(u.Why))
		}
	}
}

func insideWord(r plan.Readback) string {
	switch {
	case r.Inside:
		return "inside"
	case r.Actual.Value > r.Forecast.High:
		return "above"
	}
	return "below"
}

func movers(all []plan.Mover) string {
	var ids []string
	for _, m := range all {
		ids = append(ids, fmt.Sprint(m.Record))
	}
	return strings.Join(ids, ", ")
}

// printScreen says what the records say about a mill's screen.
func printScreen(c *cobra.Command, env *Env, p *say.Printer, s sieving.ScreenState) {
	heading(env, "%s", p.Line("screen.title"))
	full, err := c.Flags().GetBool("full")
	printDocument(env, p, p.Document(s.Document), full && err == nil)
}

// whyLearned unfolds parameters: the book's figure and what it is now.
func whyLearned(c *cobra.Command, env *Env, l plan.Learning, key string) error {
	var keys []string
	found := false
	for _, p := range l.Parameters {
		if keys = append(keys, p.Now.Key); key != "all" && p.Now.Key != key {
			continue
		}
		found = true
		if p.Polymer != "" {
			heading(env, "%s, %s", p.Now.Name, p.Polymer)
		}
		for _, f := range []struct {
			word string
			figure.Figure
		}{{"now", p.Now}, {"books", p.Book}} {
			plain(env.Out, "%s:", f.word)
			explainFigure(env, f.Figure, 1)
		}
	}
	if !found {
		return usagef(c, "%s has no parameter %q; it has: %s.", l.Mill, key, joined(keys))
	}
	return nil
}

// foretold says, after a charge was written down, what the records before it
// had foretold. err is that of writing it down. With --json the answer is the
// record alone.
func foretold(c *cobra.Command, env *Env, err error) error {
	if err != nil || asJSON(c) {
		return err
	}
	state, err := readShop(c, env)
	if err != nil {
		return err
	}
	id := state.Newest().ID
	if old := state.Newest().Corrects; old != 0 { // a corrected record keeps its number
		id = old
	}
	if r, ok := state.Record(id); !ok || r.Body.Kind() != (*shop.Ground)(nil).Kind() {
		return nil
	}
	f, err := plan.Compare(state, id)
	if err != nil { // the charge is kept all the same
		fmt.Fprintf(env.Err, "There is no forecast to hold it against: %v.\n", err)
		return nil
	}
	from := "from books"
	if f.Runs > 0 {
		from = fmt.Sprintf("from %d of your runs", f.Runs)
	}
	for _, r := range f.Read {
		plain(env.Out, "%s: %s; the forecast was %s (%s), %s: %s.", r.Actual.Name, r.Actual.Shown(), r.Forecast.Shown(), r.Forecast.ShownRange(), from, insideWord(r))
	}
	return nil
}
