package cli

import (
	"github.com/spf13/cobra"

	"hopperful/plan/fit"
	"hopperful/quantity"
)

func fitCommand(env *Env) *cobra.Command {
	var reading readingFlags
	var req fit.Request
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
			if err != nil {
				return err
			}
			return answers(c, env, speaks(c, env, state), f.Document)
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
	whyFlag(c, "pressure")
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	completesFlag(c, env, "printer", printersInUse)
	completesFlag(c, env, "polymer", knownMaterials)
	return c
}
