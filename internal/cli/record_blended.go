package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/quantity"
	"hopperful/shop"
)

func blendedCommand(env *Env) *cobra.Command {
	var common noting
	var portions []string
	var into, polymer string
	b := shop.Blended{}
	c := &cobra.Command{
		Use:     "blended",
		Example: `  hopperful record blended --from R1=80g --from V1=20g --name "black, one fifth fresh"`,
		Args:    takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			if err := needed(c, "from"); err != nil {
				return err
			}
			for _, text := range portions {
				label, amount, ok := strings.Cut(text, "=")
				if !ok {
					return usagef(c, fact.Say("cli.not_a_from", fact.Name("text", text)))
				}
				lot, err := shop.ParseLot(label)
				if err != nil {
					return err
				}
				kg, err := quantityArg(c, quantity.Mass, amount)
				if err != nil {
					return err
				}
				b.From = append(b.From, shop.Portion{Lot: lot, Mass: kg})
			}
			return common.write(c, env, func(state *shop.State) (shop.Body, error) {
				var err error
				if b.Into, err = optionalLot(into); err != nil {
					return nil, err
				}
				b.Polymer, err = knownPolymer(state, polymer)
				return &b, err
			})
		},
	}
	f := c.Flags()
	f.StringArrayVar(&portions, "from", nil, "")
	f.StringVar(&into, "into", "", "")
	f.StringVar(&b.Name, "name", "", "")
	f.StringVar(&polymer, "polymer", "", "")
	f.StringVar(&b.Colour, "colour", "", "")
	f.StringVar(&b.RGB, "rgb", "", "")
	common.flags(c, env)
	shopFlag(c)
	return c
}
