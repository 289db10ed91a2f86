package cli

import (
	"github.com/spf13/cobra"

	"hopperful/quantity"
	"hopperful/shop"
)

func jarCommand(env *Env) *cobra.Command {
	r, b := recording{env: env}, shop.JarWeighed{}
	r.Command = &cobra.Command{
		Use: "jar LOT",
		Example: `  hopperful record jar R1 --jar 100ml --poured 54g
  hopperful record jar R1 --jar 100ml --poured 54g --tapped 60g`,
		Args: takes(1, 1, "takes.a_lot_s_label"),
	}
	r.lot(&b.Lot)
	r.known(&b.Jar, "jar", quantity.Volume)
	r.known(&b.Poured, "poured", quantity.Mass)
	quantityVar(r.Command, &b.Tapped, "tapped", quantity.Mass)
	return r.keeping(&b)
}
