package cli

import (
	"github.com/spf13/cobra"

	"hopperful/quantity"
	"hopperful/shop"
)

func magnetCommand(env *Env) *cobra.Command {
	r, b := recording{env: env}, shop.PassedMagnet{}
	r.Command = &cobra.Command{
		Use: "magnet LOT",
		Example: `  hopperful record magnet R1 --metal 0g
  hopperful record magnet R1 --metal 0.1g --passed 90g --by Ada`,
		Args: takes(1, 1, "takes.a_lot_s_label"),
	}
	r.lot(&b.Lot)
	r.known(&b.Metal, "metal", quantity.Mass)
	quantityVar(r.Command, &b.Passed, "passed", quantity.Mass)
	r.Flags().Int64Var((*int64)(&b.Run), "of-run", 0, "")
	return r.keeping(&b)
}
