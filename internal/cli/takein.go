package cli

import (
	"github.com/spf13/cobra"

	"hopperful/quantity"
	"hopperful/shop"
)

func takeInCommand(env *Env) *cobra.Command {
	var common noting
	var b shop.TakenIn
	class, lot, polymer := string(shop.Scrap), "", ""
	c := &cobra.Command{
		Use: "take-in MASS",
		Example: `  hopperful take-in 1.2kg --polymer PLA --colour black --name "failed brackets" --wall 1.2mm --infill 15%
  hopperful take-in 840g --name "bin without a label"
  hopperful take-in 2kg --class virgin --polymer PETG --colour clear --price 21`,
		Args: takes(1, 1, "takes.one_mass"),
		RunE: func(c *cobra.Command, args []string) error {
			var err error
			if b.Mass, err = quantityArg(c, quantity.Mass, args[0]); err != nil {
				return err
			}
			b.Class = shop.Class(class)
			if b.Lot, err = optionalLot(lot); err != nil {
				return err
			}
			return common.write(c, env, func(state *shop.State) (shop.Body, error) {
				if b.Polymer, err = knownPolymer(state, polymer); err != nil {
					return nil, err
				}
				return &b, nil
			})
		},
	}
	asks(c, env, b.Kind(), map[string]any{
		"class": &class, "lot": &lot, "name": &b.Name, "polymer": &polymer, "sure": &b.Sure, "colour": &b.Colour, "rgb": &b.RGB, "halogen": &b.Halogen,
		"pieces.largest_m": &b.Pieces.Largest, "pieces.wall_m": &b.Pieces.Wall, "pieces.infill": &b.Pieces.Infill, "metal": &b.Metal, "price": &b.Price,
	})
	common.flags(c, env)
	shopFlag(c)
	completesFlag(c, env, "polymer", knownMaterials)
	return c
}
