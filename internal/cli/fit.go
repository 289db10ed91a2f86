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
		Use: "fit LOT NEED",
		Example: `  hopperful fit R1 240g
  hopperful fit R1 vase.gcode --printer Puddle
  hopperful fit R1 240g --nozzle 1.2mm --temperature 205C --json
  hopperful fit R1 240g --why pressure`,
		Args: takes(2, 2, "takes.a_lot_and_a_need"),
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
			return answers(c, env, speaks(env, state), f.Document)
		},
	}
	reading.flags(c)
	f := c.Flags()
	f.StringVar(&req.Printer, "printer", "", "")
	quantityVar(c, &req.Nozzle, "nozzle", quantity.Length)
	quantityVar(c, &req.Temperature, "temperature", quantity.Temperature)
	quantityVar(c, &req.Strength, "strength", quantity.Share)
	f.Uint64Var(&req.Seed, "seed", 0, "")
	f.IntVar(&req.Draws, "draws", 0, "")
	whyFlag(c, "pressure")
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	completesFlag(c, env, "printer", printersInUse)
	completesFlag(c, env, "polymer", knownMaterials)
	return c
}
