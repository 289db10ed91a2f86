package cli

import (
	"github.com/spf13/cobra"

	"hopperful/quantity"
	"hopperful/shop"
)

func jarCommand(env *Env) *cobra.Command {
	var common noting
	var jar, poured *float64
	b := shop.JarWeighed{}
	c := &cobra.Command{
		Use: "jar LOT",
		Example: `  hopperful record jar R1 --jar 100ml --poured 54g
  hopperful record jar R1 --jar 100ml --poured 54g --tapped 60g`,
		Args: takes(1, 1, "takes.a_lot_s_label"),
		RunE: func(c *cobra.Command, args []string) error {
			if err := needed(c, "jar", "poured"); err != nil {
				return err
			}
			var err error
			if b.Lot, err = shop.ParseLot(args[0]); err != nil {
				return err
			}
			if b.Jar, err = given(c, "jar", jar); err != nil {
				return err
			}
			if b.Poured, err = given(c, "poured", poured); err != nil {
				return err
			}
			return common.write(c, env, func(*shop.State) (shop.Body, error) { return &b, nil })
		},
	}
	quantityVar(c, &jar, "jar", quantity.Volume)
	quantityVar(c, &poured, "poured", quantity.Mass)
	quantityVar(c, &b.Tapped, "tapped", quantity.Mass)
	common.flags(c, env)
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	return c
}
