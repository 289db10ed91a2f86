package cli

import (
	"github.com/spf13/cobra"

	"hopperful/quantity"
	"hopperful/shop"
)

func dedustedCommand(env *Env) *cobra.Command {
	var common noting
	b := shop.Dedusted{}
	c := &cobra.Command{
		Use:     "dedusted LOT MASS",
		Example: `  hopperful record dedusted R1 9g --through 0.5mm`,
		Args:    takes(2, 2, "takes.label_and_dust"),
		RunE: func(c *cobra.Command, args []string) error {
			var err error
			if b.Lot, err = shop.ParseLot(args[0]); err != nil {
				return err
			}
			if b.Dust, err = quantityArg(c, quantity.Mass, args[1]); err != nil {
				return err
			}
			return common.write(c, env, func(*shop.State) (shop.Body, error) { return &b, nil })
		},
	}
	quantityVar(c, &b.Opening, "through", quantity.Length)
	common.flags(c, env)
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	return c
}
