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
	r, b := recording{env: env}, shop.Happened{}
	r.Command = &cobra.Command{
		Use: "happened WHAT",
		Example: `  hopperful record happened "blocked nozzle" --printer Puddle --lot R1 --since 430g --note "a dark speck"
  hopperful record happened "torn screen" --mill Rattle
  hopperful record happened other --mill Grumble --note "the lid rattles"`,
		Args: takes(1, 1, "takes.what_happened_in_quotes"),
	}
	r.reads = append(r.reads, func(args []string) error {
		b.What = shop.Mishap(args[0])
		if !slices.Contains(mishaps, args[0]) {
			return usagef(r.Command, fact.Say("cli.not_a_mishap", fact.Name("word", args[0]), fact.Name("mishaps", strings.Join(mishaps, ", "))))
		}
		return nil
	})
	f := r.Flags()
	f.StringVar(&b.Mill, "mill", "", "")
	f.StringVar(&b.Printer, "printer", "", "")
	r.lotVar(&b.Lot, "lot")
	quantityVar(r.Command, &b.Since, "since", quantity.Mass)
	completes(r.Command, env, func(*shop.State) []string { return mishaps }, cobra.ShellCompDirectiveNoFileComp)
	completesFlag(r.Command, env, "mill", millsInUse)
	completesFlag(r.Command, env, "printer", printersInUse)
	return r.keeping(&b)
}
