package cli

import (
	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/quantity"
	"hopperful/shop"
)

func sortedCommand(env *Env) *cobra.Command {
	r, b := recording{env: env, needs: []string{"from"}}, shop.Sorted{}
	var heaps []string
	r.Command = &cobra.Command{
		Use: "sorted",
		Example: `  hopperful record sorted --from S7 --into 402g,polymer=PLA,colour=orange --into 210g,polymer=PETG,sure=80% --waste 30g
  hopperful record sorted --from S9 --into 100g,name=mounts --metal 12g`,
		Args: takes(0, 0, "takes.flags_only"),
	}
	r.lotVar(&b.From, "from")
	r.Flags().StringArrayVar(&heaps, "into", nil, "")
	quantityVar(r.Command, &b.Metal, "metal", quantity.Mass)
	quantityVar(r.Command, &b.Waste, "waste", quantity.Mass)
	return r.making(func(state *shop.State) (shop.Body, error) {
		for _, text := range heaps {
			part, err := heap(r.Command, state, text)
			if err != nil {
				return nil, err
			}
			b.Into = append(b.Into, part)
		}
		return &b, nil
	})
}

// heap reads one --into of a sorting.
func heap(c *cobra.Command, state *shop.State, text string) (shop.Part, error) {
	var p shop.Part
	var err error
	quantities := map[string]quantityFlag{
		"sure":    {quantity.Share, &p.Sure},
		"largest": {quantity.Length, &p.Pieces.Largest},
		"wall":    {quantity.Length, &p.Pieces.Wall},
		"infill":  {quantity.Share, &p.Pieces.Infill},
	}
	p.Mass, err = portion(c, text, func(key, value string) error {
		var err error
		switch key {
		case "lot":
			p.Lot, err = shop.ParseLot(value)
		case "name":
			p.Name = value
		case "polymer":
			p.Polymer, err = knownPolymer(state, value)
		case "colour":
			p.Colour = value
		case "rgb":
			p.RGB = value
		case "halogen":
			return yesNoFlag{&p.Halogen}.Set(value)
		default:
			q, ok := quantities[key]
			if !ok {
				return cannotBe(fact.Say("cli.not_a_heap_key", fact.Name("key", key)))
			}
			return q.Set(value)
		}
		return err
	})
	return p, err
}
