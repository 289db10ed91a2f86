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
		Use:   "take-in MASS",
		Short: "Write down a bin of scrap or a bag of new granulate",
		Long: `Makes a lot of what came in, with the next free label, or adds to the lot that
--lot names. Everything but the mass may be unknown; leave it out.`,
		Example: `  hopperful take-in 1.2kg --polymer PLA --colour black --name "failed brackets" --wall 1.2mm --infill 15%
  hopperful take-in 840g --name "bin without a label"
  hopperful take-in 2kg --class virgin --polymer PETG --colour clear --price 21`,
		Args: takes(1, 1, "one mass, such as 1.2kg"),
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
	f := c.Flags()
	f.Var(wordFlag{classWords, &class}, "class", "what state it is in")
	f.StringVar(&lot, "lot", "", "label of the lot; empty: the next free one")
	f.StringVar(&b.Name, "name", "", "your own words for it")
	f.StringVar(&polymer, "polymer", "", "PLA, PETG, ABS …; leave out when nobody can tell")
	quantityVar(c, &b.Sure, "sure", quantity.Share, "how sure you are of the polymer: 90%")
	f.StringVar(&b.Colour, "colour", "", "your word for the colour")
	f.StringVar(&b.RGB, "rgb", "", "the colour as #rrggbb")
	yesNoVar(c, &b.Halogen, "halogen", "suspected to hold chlorine or a flame retardant")
	piecesVars(c, &b.Pieces)
	f.StringVar(&b.Metal, "metal", "", "inserts, screws, magnets seen in it")
	quantityVar(c, &b.Price, "price", quantity.Money, "paid for all of it")
	common.flags(c, env)
	shopFlag(c)
	completesFlag(c, env, "polymer", knownMaterials)
	return c
}

func piecesVars(c *cobra.Command, p *shop.Pieces) {
	quantityVar(c, &p.Largest, "largest", quantity.Length, "largest dimension of the largest piece: 80mm")
	quantityVar(c, &p.Wall, "wall", quantity.Length, "wall thickness of the prints: 1.2mm")
	quantityVar(c, &p.Infill, "infill", quantity.Share, "how full they are: 0% hollow, 100% solid")
}
