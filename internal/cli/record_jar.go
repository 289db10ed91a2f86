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
		Use:   "jar LOT",
		Short: "A jar of known volume filled from a lot and weighed",
		Long: `Gives the bulk density: fill a jar to the rim, strike it off, weigh what is in
it. Tapped down and filled up again it gives the tapped density, and with it how
readily the grains bridge. What was in the jar goes back.`,
		Example: `  hopperful record jar R1 --jar 100ml --poured 54g
  hopperful record jar R1 --jar 100ml --poured 54g --tapped 60g`,
		Args: takes(1, 1, "a lot's label"),
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
	quantityVar(c, &jar, "jar", quantity.Volume, "volume of the jar")
	quantityVar(c, &poured, "poured", quantity.Mass, "what it holds, without the jar")
	quantityVar(c, &b.Tapped, "tapped", quantity.Mass, "what it holds tapped down and filled up again")
	common.flags(c, env)
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	return c
}
