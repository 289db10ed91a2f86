package cli

import (
	"github.com/spf13/cobra"

	"hopperful/quantity"
	"hopperful/shop"
)

func flowTestCommand(env *Env) *cobra.Command {
	var common noting
	var cuts []string
	b := shop.FlowTested{}
	c := &cobra.Command{
		Use:   "flow-test LOT",
		Short: "What a lot's melt gave in a time, at a printer or under a load",
		Long: `Either a test at a printer (--printer, --time and --extruded, with the speed of
the screw or the temperature), or a melt-flow test (--load, --temperature,
--cut-time and one --cut for each piece cut off). What came out leaves the lot.`,
		Example: `  hopperful record flow-test R1 --printer Puddle --temperature 205°C --screw-speed 30rpm --time 2min --extruded 6g
  hopperful record flow-test R3 --temperature 230°C --load 2.16kg --cut-time 30s --cut 1.2g --cut 1.3g --cut 1.2g`,
		Args: takes(1, 1, "a lot's label"),
		RunE: func(c *cobra.Command, args []string) error {
			var err error
			if b.Lot, err = shop.ParseLot(args[0]); err != nil {
				return err
			}
			for _, text := range cuts {
				kg, err := quantityArg(c, quantity.Mass, text)
				if err != nil {
					return err
				}
				b.Cuts = append(b.Cuts, kg)
			}
			return common.write(c, env, func(*shop.State) (shop.Body, error) { return &b, nil })
		},
	}
	f := c.Flags()
	f.StringVar(&b.Printer, "printer", "", "name of the printer; empty: a melt-flow test")
	quantityVar(c, &b.Temperature, "temperature", quantity.Temperature, "of the melt, as set")
	quantityVar(c, &b.Screw, "screw-speed", quantity.Rotation, "speed of the screw: 30rpm")
	quantityVar(c, &b.Time, "time", quantity.Duration, "the printer ran")
	quantityVar(c, &b.Extruded, "extruded", quantity.Mass, "what came out in that time")
	quantityVar(c, &b.Load, "load", quantity.Mass, "on the piston, piston included: 2.16kg")
	quantityVar(c, &b.CutTime, "cut-time", quantity.Duration, "between two cuts")
	f.StringArrayVar(&cuts, "cut", nil, "mass of a cut; given once for each, in order")
	common.flags(c, env)
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	completesFlag(c, env, "printer", printersInUse)
	return c
}
