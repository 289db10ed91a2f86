package cli

import (
	"github.com/spf13/cobra"

	"hopperful/quantity"
	"hopperful/shop"
)

// The ways to dry, as --way takes them.
var dryingWays = []string{string(shop.Oven), string(shop.Dehydrator), string(shop.DesiccantBox), string(shop.DryAir), string(shop.OtherWay)}

func driedCommand(env *Env) *cobra.Command {
	r, b := recording{env: env, needs: []string{"way"}}, shop.Dried{}
	r.Command = &cobra.Command{
		Use: "dried LOT",
		Example: `  hopperful record dried R3 --way oven --temperature 65°C --time 5h
  hopperful record dried R3 --way desiccant-box --temperature 40°C --time 2d --before 60g --after 59g --bed 25mm`,
		Args: takes(1, 1, "takes.a_lot_s_label"),
	}
	r.lot(&b.Lot)
	wordVar(r.Command, env, (*string)(&b.Way), "way", dryingWays)
	r.known(&b.Temperature, "temperature", quantity.Temperature)
	r.known(&b.Time, "time", quantity.Duration)
	quantityVar(r.Command, &b.In, "before", quantity.Mass)
	quantityVar(r.Command, &b.Out, "after", quantity.Mass)
	quantityVar(r.Command, &b.DewPoint, "dew-point", quantity.Temperature)
	quantityVar(r.Command, &b.Bed, "bed", quantity.Length)
	quantityVar(r.Command, &b.Energy, "energy", quantity.Energy)
	return r.keeping(&b)
}
