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
		Use: "mixed",
		Example: `  hopperful identify mixed --host PLA --stray PETG --pieces 60 --wrong 3
  hopperful identify mixed --host PETG --stray PP --pieces 120 --wrong 0 --liquid water
  hopperful identify mixed --host PETG --stray PP --floated 12g --sank 388g --piece 2g --liquid water`,
		Args: takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			if err := needed(c, "host", "stray"); err != nil {
				return err
			}
			state, err := readShopIfAny(c, env)
			if err != nil {
				return err
			}
			if liquid != "" {
				temperature := identification.UsualTemperature
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
			p := speaks(env, state)
			out, err := identification.MixedShare(state, r)
			if err != nil {
				return err
			}
			return answers(c, env, p, out.Document)
		},
	}
	s := c.Flags()
	s.StringVar(&r.Host, "host", "", "")
	s.StringVar(&r.Stray, "stray", "", "")
	s.IntVar(&r.Pieces, "pieces", 0, "")
	s.IntVar(&r.Wrong, "wrong", 0, "")
	s.StringVar(&liquid, "liquid", "", "")
	quantityVar(c, &at, "liquid-temperature", quantity.Temperature)
	quantityVar(c, &floatedMass, "floated", quantity.Mass)
	quantityVar(c, &sank, "sank", quantity.Mass)
	quantityVar(c, &each, "piece", quantity.Mass)
	whyFlag(c, "share")
	shopFlag(c)
	completesFlag(c, env, "host", knownMaterials)
	completesFlag(c, env, "stray", knownMaterials)
	return c
}
