package cli

import (
	"github.com/spf13/cobra"

	"hopperful/plan/identification"
	"hopperful/quantity"
)

func identifyMixedCommand(env *Env) *cobra.Command {
	var r identification.MixedRequest
	var liquid string
	var at, floatedMass, sank, each *float64
	c := &cobra.Command{
		Use:   "mixed",
		Short: "How much of a wrong plastic is in a lot, and whether that is too much",
		Long: `Takes pieces counted by eye, or parted by a liquid, and says between which shares
the truth lies, what the stray does to the host, and what the lot is still good
for. Draw the pieces at random, from all over the lot.`,
		Example: `  hopperful identify mixed --host PLA --stray PETG --pieces 60 --wrong 3
  hopperful identify mixed --host PETG --stray PP --pieces 120 --wrong 0 --liquid water
  hopperful identify mixed --host PETG --stray PP --floated 12g --sank 388g --piece 2g --liquid water`,
		Args: takes(0, 0, "flags only"),
		RunE: func(c *cobra.Command, _ []string) error {
			if err := needed(c, "host", "stray"); err != nil {
				return err
			}
			state, err := readShopIfAny(c, env)
			if err != nil {
				return err
			}
			if liquid != "" {
				temperature := zeroCelsius + 20.0
				if at != nil {
					temperature = *at
				}
				if r.Liquid, err = identification.ReadLiquid(liquid, temperature); err != nil {
					return misread(c, err)
				}
			}
			for into, from := range map[*float64]*float64{&r.Floated: floatedMass, &r.Sank: sank, &r.Piece: each} {
				if from != nil {
					*into = *from
				}
			}
			p := speaks(c, env, state)
			out, err := identification.MixedShare(state, r)
			if err != nil {
				return err
			}
			return answers(c, env, p, out.Document)
		},
	}
	s := c.Flags()
	s.StringVar(&r.Host, "host", "", "polymer the lot should be")
	s.StringVar(&r.Stray, "stray", "", "polymer that should not be there")
	s.IntVar(&r.Pieces, "pieces", 0, "pieces looked at, drawn at random")
	s.IntVar(&r.Wrong, "wrong", 0, "of them: the wrong ones, or those on the wrong side of the liquid")
	s.StringVar(&liquid, "liquid", "", "liquid that parted them: water, 1.08g/cm3, \"brine 12%\"; empty: told apart by eye")
	quantityVar(c, &at, "liquid-temperature", quantity.Temperature, "of a liquid given by strength; empty: 20°C")
	quantityVar(c, &floatedMass, "floated", quantity.Mass, "instead of counts: what floated")
	quantityVar(c, &sank, "sank", quantity.Mass, "instead of counts: what sank")
	quantityVar(c, &each, "piece", quantity.Mass, "what one piece weighs on average")
	whyFlag(c, "share")
	shopFlag(c)
	completesFlag(c, env, "host", knownMaterials)
	completesFlag(c, env, "stray", knownMaterials)
	return c
}
