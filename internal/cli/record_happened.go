package cli

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/quantity"
	"hopperful/shop"
)

// What can go wrong, as the command takes it.
var mishaps = []string{string(shop.Stalled), string(shop.BlockedNozzle), string(shop.BridgedHopper), string(shop.TornScreen),
	string(shop.CrackedPlate), string(shop.SmellOrSmoke), string(shop.OtherMishap)}

func happenedCommand(env *Env) *cobra.Command {
	var common noting
	var lot string
	b := shop.Happened{}
	c := &cobra.Command{
		Use: "happened WHAT",
		Example: `  hopperful record happened "blocked nozzle" --printer Puddle --lot R1 --since 430g --note "a dark speck"
  hopperful record happened "torn screen" --mill Rattle
  hopperful record happened other --mill Grumble --note "the lid rattles"`,
		Args: takes(1, 1, "takes.what_happened_in_quotes"),
		RunE: func(c *cobra.Command, args []string) error {
			if !slices.Contains(mishaps, args[0]) {
				return usagef(c, fact.Say("cli.not_a_mishap", fact.Name("word", args[0]), fact.Name("mishaps", strings.Join(mishaps, ", "))))
			}
			b.What = shop.Mishap(args[0])
			var err error
			if b.Lot, err = optionalLot(lot); err != nil {
				return err
			}
			return common.write(c, env, func(*shop.State) (shop.Body, error) { return &b, nil })
		},
	}
	f := c.Flags()
	f.StringVar(&b.Mill, "mill", "", "")
	f.StringVar(&b.Printer, "printer", "", "")
	f.StringVar(&lot, "lot", "", "")
	quantityVar(c, &b.Since, "since", quantity.Mass)
	common.flags(c, env)
	shopFlag(c)
	completes(c, env, func(*shop.State) []string { return mishaps }, cobra.ShellCompDirectiveNoFileComp)
	completesFlag(c, env, "mill", millsInUse)
	completesFlag(c, env, "printer", printersInUse)
	completesFlag(c, env, "lot", lotsOnHand)
	return c
}
