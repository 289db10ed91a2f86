package cli

import (
	"github.com/spf13/cobra"

	"hopperful/shop"
)

// aboutLot makes a command that answers something of one lot: as JSON, or as
// show prints it.
func aboutLot[T any](env *Env, c *cobra.Command, of func(*shop.State, shop.LotID) (T, error), show func(*cobra.Command, T) error) *cobra.Command {
	c.Args = takes(1, 1, "one lot's label")
	c.RunE = func(c *cobra.Command, args []string) error {
		state, err := readShop(c, env)
		if err != nil {
			return err
		}
		ids, err := lots(args)
		if err != nil {
			return err
		}
		found, err := of(state, ids[0])
		switch {
		case err != nil:
			return err
		case asJSON(c):
			return writeJSON(env, found)
		}
		return show(c, found)
	}
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	return c
}
