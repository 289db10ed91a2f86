package cli

import (
	"github.com/spf13/cobra"

	"hopperful/quantity"
	"hopperful/shop"
)

func dedustedCommand(env *Env) *cobra.Command {
	r, b := recording{env: env}, shop.Dedusted{}
	r.Command = &cobra.Command{
		Use:     "dedusted LOT MASS",
		Example: `  hopperful record dedusted R1 9g --through 0.5mm`,
		Args:    takes(2, 2, "takes.label_and_dust"),
	}
	r.lot(&b.Lot)
	r.mass(&b.Dust)
	quantityVar(r.Command, &b.Opening, "through", quantity.Length)
	return r.keeping(&b)
}
