package cli

import (
	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/shop"
)

// aboutLot makes a command that answers something of one lot.
func aboutLot(env *Env, c *cobra.Command, of func(*shop.State, shop.LotID) (answer.Document, error)) *cobra.Command {
	c.Args = takes(1, 1, "takes.one_lot_s_label")
	c.RunE = func(c *cobra.Command, args []string) error {
		state, err := readShop(c, env)
		if err != nil {
			return err
		}
		p := speaks(env, state)
		ids, err := lots(args)
		if err != nil {
			return err
		}
		found, err := of(state, ids[0])
		if err != nil {
			return err
		}
		return answers(c, env, p, found)
	}
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	return c
}
