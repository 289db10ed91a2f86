package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/plan/fit"
	"hopperful/quantity"
)

func fitCommand(env *Env) *cobra.Command {
	var reading readingFlags
	var req fit.Request
	var why string
	c := &cobra.Command{
		Use:   "fit LOT NEED",
		Short: "Is this lot fit to print? Question by question, with settings to start with",
		Long: `Asks every question that stands between a lot and a print, in the order the
material travels: enough of it, one polymer, metal, sizes, water, hopper, screw,
heat, pressure, nozzle, strength. Each answer is yes (90 % and more), likely
(from two thirds), open, unlikely (below one third), no (below 10 %) or not
known yet, with its figure, its limit and the cheapest thing that would change
it. The whole is only as good as its worst answer.

NEED is a file (G-code, STL, 3MF), "-" for standard input, a mass such as 240g,
or the name of a saved need. That a lot is not fit is an answer too (exit code 0).
--why unfolds a figure down to formulas, sources and records.`,
		Example: `  hopperful fit R1 240g
  hopperful fit R1 vase.gcode --printer Puddle
  hopperful fit R1 240g --nozzle 1.2mm --temperature 205C --json
  hopperful fit R1 240g --why pressure`,
		Args: takes(2, 2, "a lot and a need: a file, a mass such as 240g, or a saved need's name"),
		RunE: func(c *cobra.Command, args []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			ids, err := lots(args[:1])
			if err != nil {
				return err
			}
			found, err := reading.find(c, env, state, args[1])
			if err != nil {
				return err
			}
			req.Lot, req.Need, req.Now = ids[0], found.Need, env.Now()
			f, err := fit.Judge(state, req)
			switch {
			case err != nil:
				return err
			case asJSON(c):
				return writeJSON(env, f)
			case why != "":
				return whyOf(c, env, fitFigures(f), why)
			}
			printFitness(env, f)
			return nil
		},
	}
	reading.flags(c)
	f := c.Flags()
	f.StringVar(&req.Printer, "printer", "", "name of the printer; empty: the first in use")
	quantityVar(c, &req.Nozzle, "nozzle", quantity.Length, "another nozzle than the printer's")
	quantityVar(c, &req.Temperature, "temperature", quantity.Temperature, "of the melt; empty: usual for the polymer")
	quantityVar(c, &req.Strength, "strength", quantity.Share, "of a fresh print's strength the part must keep; empty: 80 %")
	f.Uint64Var(&req.Seed, "seed", 0, "of the draws; the same seed gives the same answer; 0: the usual one")
	f.IntVar(&req.Draws, "draws", 0, "how many cases are drawn; 0: 240")
	f.StringVar(&why, "why", "", "unfold the figure of this key, such as pressure; all: every figure")
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	completesFlag(c, env, "printer", printersInUse)
	completesFlag(c, env, "polymer", knownMaterials)
	return c
}

// fitFigures are the figures of a check, in reading order.
func fitFigures(f fit.Fitness) []figure.Figure {
	var all []figure.Figure
	for _, x := range f.Items {
		if x.Figure != nil {
			all = append(all, *x.Figure)
		}
	}
	all = append(all, f.Chance)
	all = append(all, f.Sheet.Settings...)
	return append(all, f.Figures...)
}

// printFitness shows a check: the answer, what could spoil it, the questions,
// the sheet for the printer.
func printFitness(env *Env, f fit.Fitness) {
	plain(env.Out, "%s", f.Answer)
	if f.Refused != nil {
		heading(env, "It must not be melted")
		plain(env.Out, "  %s", f.Refused.Why)
		plain(env.Out, "  %s", f.Refused.Nearest)
		return
	}
	printSpoilers(env, f.Spoilers)
	heading(env, "Question by question, for %s on %s", orWord(f.NeedName, "this print"), orWord(f.Printer, "a printer nobody has described"))
	g := newGrid(env, "question", "answer", ">chance", ">figure", ">bound")
	for _, x := range f.Items {
		g.row(x.Question, string(x.Verdict), quantity.Share.Rough(x.Chance), withRange(*x.Figure), x.Figure.ShownLimit())
	}
	g.print()
	plain(env.Out, "All of it at once: %s of cases.", quantity.Share.Rough(f.Chance.Value))
	heading(env, "What would change an answer")
	for _, x := range f.Items {
		if x.Change == nil {
			continue
		}
		plain(env.Out, "  %s %s", x.Question, x.Says)
		text := sentence(x.Change.Do)
		if x.Change.Shown != "" {
			text += " Takes " + x.Change.Shown + "."
		}
		plain(env.Out, "    %s: %s", x.Change.Kind, text)
	}
	heading(env, "Settings to start with")
	printFigures(env, f.Sheet.Settings)
	for _, a := range f.Sheet.Advice {
		plain(env.Out, "  %s", a)
	}
	printCautions(env, f.Cautions)
	plain(env.Out, "\n%d draws, seed %d.", f.Draws, f.Seed)
}

func printSpoilers(env *Env, spoilers []answer.Spoiler) {
	if len(spoilers) == 0 {
		return
	}
	heading(env, "What could spoil it")
	for _, s := range spoilers {
		plain(env.Out, "  %s %s", sentence(s.What), sentence(s.Remedy))
	}
}

func printCautions(env *Env, cautions []answer.Caution) {
	if len(cautions) == 0 {
		return
	}
	heading(env, "Before you start")
	for _, c := range cautions {
		plain(env.Out, "  %s: %s", c.Where, c.Text)
	}
}

func orWord(text, other string) string {
	if strings.TrimSpace(text) == "" {
		return other
	}
	return text
}
