package cli

import (
	"github.com/spf13/cobra"

	"hopperful/plan/fit"
	"hopperful/quantity"
	"hopperful/shop"
)

func dryCommand(env *Env) *cobra.Command {
	var req fit.DryRequest
	var way string
	c := &cobra.Command{
		Use:   "dry [LOT]",
		Short: "How to dry a lot, how long, and how long it may lie open afterwards",
		Long: `Plans a drying with what a workshop has: an oven, a food dehydrator, a desiccant
box or a dryer with dry air. A dryer that is too hot, too humid or too deeply
filled is refused with the reason and the remedy; that is an answer too (exit
code 0). Without a lot, name a --polymer.`,
		Example: `  hopperful dry R1 --way oven
  hopperful dry R1 --way dry-air --dew-point -30C --temperature 47C --bed 3cm
  hopperful dry --polymer PETG --way dehydrator --mass 2kg --json
  hopperful dry R1 --way dry-air --why time`,
		Args: takes(0, 1, "one lot"),
		RunE: func(c *cobra.Command, args []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			if len(args) == 0 && req.Polymer == "" {
				return usagef(c, "Name a lot, or a --polymer.")
			}
			ids, err := lots(args)
			if err != nil {
				return err
			}
			if len(ids) > 0 {
				req.Lot = ids[0]
			}
			req.Way, req.Now = shop.Way(way), env.Now()
			d, err := fit.Dry(state, req)
			if err != nil {
				return err
			}
			return answers(c, env, speaks(c, env, state), d.Document)
		},
	}
	f := c.Flags()
	f.StringVar(&req.Polymer, "polymer", "", "PLA, PETG, ABS …; empty: the lot's")
	wordVar(c, env, &way, "way", dryerKinds, "how it is dried; empty: the dryers of the shop, or every kind where none is described")
	quantityVar(c, &req.Temperature, "temperature", quantity.Temperature, "temperature of the dryer; empty: usual for the polymer")
	quantityVar(c, &req.Bed, "bed", quantity.Length, "depth of the heap; empty: as deep as it may be, at most 2cm")
	quantityVar(c, &req.DewPoint, "dew-point", quantity.Temperature, "of a dryer with dry air; empty: -30C")
	quantityVar(c, &req.Flow, "air", quantity.VolumeFlow, "air blown through the granulate")
	quantityVar(c, &req.Humidity, "box-humidity", quantity.Humidity, "that the desiccant keeps; empty: 10%RH")
	quantityVar(c, &req.Mass, "mass", quantity.Mass, "to dry; empty: the whole lot")
	quantityVar(c, &req.Start, "start", quantity.Share, "water in it now; empty: by the room's air and its records")
	quantityVar(c, &req.Limit, "limit", quantity.Share, "water wanted; empty: what the melt bears")
	f.Uint64Var(&req.Seed, "seed", 0, "of the draws; 0: the usual one")
	f.IntVar(&req.Draws, "draws", 0, "how many cases are drawn; 0: 240")
	whyFlag(c, "time")
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	completesFlag(c, env, "polymer", knownMaterials)
	return c
}

// dryerKinds are the words of --way and of a dryer's kind.
var dryerKinds = dryingWays[:len(dryingWays)-1]
