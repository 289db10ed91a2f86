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
		Use:   "magnet LOT",
		Short: "A lot let run over a magnet, and the metal caught",
		Long: `Writes down what a magnet caught. No metal is a finding too: --metal 0g. Brass,
aluminium and most stainless steel pass a magnet unseen.`,
		Example: `  hopperful record magnet R1 --metal 0g
  hopperful record magnet R1 --metal 0.1g --passed 90g --by Ada`,
		Args: takes(1, 1, "a lot's label"),
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
	quantityVar(c, &metal, "metal", quantity.Mass, "metal caught; 0g: none")
	quantityVar(c, &b.Passed, "passed", quantity.Mass, "mass let over the magnet")
	c.Flags().Int64Var(&run, "of-run", 0, "number of the record of the run it came out of")
	common.flags(c, env)
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	return c
}
