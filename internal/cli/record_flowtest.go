package cli

import (
	"github.com/spf13/cobra"

	"hopperful/quantity"
	"hopperful/shop"
)

func flowTestCommand(env *Env) *cobra.Command {
	r, b := recording{env: env}, shop.FlowTested{}
	var cuts []string
	r.Command = &cobra.Command{
		Use: "flow-test LOT",
		Example: `  hopperful record flow-test R1 --printer Puddle --temperature 205°C --screw-speed 30rpm --time 2min --extruded 6g
  hopperful record flow-test R3 --temperature 230°C --load 2.16kg --cut-time 30s --cut 1.2g --cut 1.3g --cut 1.2g`,
		Args: takes(1, 1, "takes.a_lot_s_label"),
	}
	r.lot(&b.Lot)
	r.reads = append(r.reads, func([]string) error {
		for _, text := range cuts {
			kg, err := quantityArg(r.Command, quantity.Mass, text)
			if err != nil {
				return err
			}
			b.Cuts = append(b.Cuts, kg)
		}
		return nil
	})
	f := r.Flags()
	f.StringVar(&b.Printer, "printer", "", "")
	completesFlag(r.Command, env, "printer", printersInUse)
	quantityVar(r.Command, &b.Temperature, "temperature", quantity.Temperature)
	quantityVar(r.Command, &b.Screw, "screw-speed", quantity.Rotation)
	quantityVar(r.Command, &b.Time, "time", quantity.Duration)
	quantityVar(r.Command, &b.Extruded, "extruded", quantity.Mass)
	quantityVar(r.Command, &b.Load, "load", quantity.Mass)
	quantityVar(r.Command, &b.CutTime, "cut-time", quantity.Duration)
	f.StringArrayVar(&cuts, "cut", nil, "")
	return r.keeping(&b)
}
