package cli

import (
	"github.com/spf13/cobra"

	"hopperful/quantity"
	"hopperful/shop"
)

func magnetCommand(env *Env) *cobra.Command {
	var common noting
	var metal *float64
	var run int64
	b := shop.PassedMagnet{}
	c := &cobra.Command{
		Use: "magnet LOT",
		Example: `  hopperful record magnet R1 --metal 0g
  hopperful record magnet R1 --metal 0.1g --passed 90g --by Ada`,
		Args: takes(1, 1, "takes.a_lot_s_label"),
		RunE: func(c *cobra.Command, args []string) error {
			if err := needed(c, "metal"); err != nil {
				return err
			}
			var err error
			if b.Lot, err = shop.ParseLot(args[0]); err != nil {
				return err
			}
			if b.Metal, err = given(c, "metal", metal); err != nil {
				return err
			}
			b.Run = shop.RecordID(run)
			return common.write(c, env, func(*shop.State) (shop.Body, error) { return &b, nil })
		},
	}
	quantityVar(c, &metal, "metal", quantity.Mass)
	quantityVar(c, &b.Passed, "passed", quantity.Mass)
	c.Flags().Int64Var(&run, "of-run", 0, "")
	common.flags(c, env)
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	return c
}
