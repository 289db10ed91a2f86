package cli

import (
	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/plan/fit"
	"hopperful/quantity"
	"hopperful/shop"
)

func dryCommand(env *Env) *cobra.Command {
	var req fit.DryRequest
	var way string
	c := &cobra.Command{
		Use: "dry [LOT]",
		Example: `  hopperful dry R1 --way oven
  hopperful dry R1 --way dry-air --dew-point -30C --temperature 47C --bed 3cm
  hopperful dry --polymer PETG --way dehydrator --mass 2kg --json
  hopperful dry R1 --way dry-air --why time`,
		Args: takes(0, 1, "takes.one_lot"),
		RunE: func(c *cobra.Command, args []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			if len(args) == 0 && req.Polymer == "" {
				return usagef(c, fact.Say("cli.do_lot_or_polymer"))
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
			return answers(c, env, speaks(env, state), d.Document)
		},
	}
	f := c.Flags()
	f.StringVar(&req.Polymer, "polymer", "", "")
	wordVar(c, env, &way, "way", dryerKinds)
	quantityVar(c, &req.Temperature, "temperature", quantity.Temperature)
	quantityVar(c, &req.Bed, "bed", quantity.Length)
	quantityVar(c, &req.DewPoint, "dew-point", quantity.Temperature)
	quantityVar(c, &req.Flow, "air", quantity.VolumeFlow)
	quantityVar(c, &req.Humidity, "box-humidity", quantity.Humidity)
	quantityVar(c, &req.Mass, "mass", quantity.Mass)
	quantityVar(c, &req.Start, "start", quantity.Share)
	quantityVar(c, &req.Limit, "limit", quantity.Share)
	f.Uint64Var(&req.Seed, "seed", 0, "")
	f.IntVar(&req.Draws, "draws", 0, "")
	whyFlag(c, "time")
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	completesFlag(c, env, "polymer", knownMaterials)
	return c
}

// dryerKinds are the words of --way and of a dryer's kind.
var dryerKinds = dryingWays[:len(dryingWays)-1]
