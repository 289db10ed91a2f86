package cli

import (
	"github.com/spf13/cobra"

	"hopperful/quantity"
	"hopperful/shop"
)

// The ways to dry, as --way takes them.
var dryingWays = []string{string(shop.Oven), string(shop.Dehydrator), string(shop.DesiccantBox), string(shop.DryAir), string(shop.OtherWay)}

func driedCommand(env *Env) *cobra.Command {
	var common noting
	var hot, time *float64
	b := shop.Dried{}
	c := &cobra.Command{
		Use: "dried LOT",
		Example: `  hopperful record dried R3 --way oven --temperature 65°C --time 5h
  hopperful record dried R3 --way desiccant-box --temperature 40°C --time 2d --before 60g --after 59g --bed 25mm`,
		Args: takes(1, 1, "takes.a_lot_s_label"),
		RunE: func(c *cobra.Command, args []string) error {
			if err := needed(c, "way", "temperature", "time"); err != nil {
				return err
			}
			var err error
			if b.Lot, err = shop.ParseLot(args[0]); err != nil {
				return err
			}
			if b.Temperature, err = given(c, "temperature", hot); err != nil {
				return err
			}
			if b.Time, err = given(c, "time", time); err != nil {
				return err
			}
			return common.write(c, env, func(*shop.State) (shop.Body, error) { return &b, nil })
		},
	}
	wordVar(c, env, (*string)(&b.Way), "way", dryingWays)
	quantityVar(c, &hot, "temperature", quantity.Temperature)
	quantityVar(c, &time, "time", quantity.Duration)
	quantityVar(c, &b.In, "before", quantity.Mass)
	quantityVar(c, &b.Out, "after", quantity.Mass)
	quantityVar(c, &b.DewPoint, "dew-point", quantity.Temperature)
	quantityVar(c, &b.Bed, "bed", quantity.Length)
	quantityVar(c, &b.Energy, "energy", quantity.Energy)
	common.flags(c, env)
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	return c
}
