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
		Use: "flow-test LOT",
		Example: `  hopperful record flow-test R1 --printer Puddle --temperature 205°C --screw-speed 30rpm --time 2min --extruded 6g
  hopperful record flow-test R3 --temperature 230°C --load 2.16kg --cut-time 30s --cut 1.2g --cut 1.3g --cut 1.2g`,
		Args: takes(1, 1, "takes.a_lot_s_label"),
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
	f.StringVar(&b.Printer, "printer", "", "")
	quantityVar(c, &b.Temperature, "temperature", quantity.Temperature)
	quantityVar(c, &b.Screw, "screw-speed", quantity.Rotation)
	quantityVar(c, &b.Time, "time", quantity.Duration)
	quantityVar(c, &b.Extruded, "extruded", quantity.Mass)
	quantityVar(c, &b.Load, "load", quantity.Mass)
	quantityVar(c, &b.CutTime, "cut-time", quantity.Duration)
	f.StringArrayVar(&cuts, "cut", nil, "")
	common.flags(c, env)
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	completesFlag(c, env, "printer", printersInUse)
	return c
}
