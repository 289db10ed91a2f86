package cli

import (
	"github.com/spf13/cobra"

	"hopperful/quantity"
	"hopperful/shop"
)

// What may be done, and to which part, as --what and --part take them.
var (
	upkeeps   = []string{string(shop.Inspected), string(shop.Sharpened), string(shop.Replaced), string(shop.Repaired), string(shop.FoundDamaged)}
	millParts = []string{string(shop.BladePart), string(shop.ScreenPart), string(shop.SealPart), string(shop.MagnetPart), string(shop.BearingPart), string(shop.OtherPart)}
)

func servicedCommand(env *Env) *cobra.Command {
	var common noting
	b := shop.Serviced{}
	c := &cobra.Command{
		Use: "serviced",
		Example: `  hopperful record serviced --mill Rattle --part screen --what inspected --sound yes
  hopperful record serviced --mill Rattle --part blade --what sharpened --sound yes --before 187.1g --after 186.0g
  hopperful record serviced --mill Rattle --part seal --what "found damaged" --sound no --note "cracked at the hinge"`,
		Args: takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			if err := needed(c, "part", "what"); err != nil {
				return err
			}
			return common.write(c, env, func(state *shop.State) (shop.Body, error) {
				if active := state.ActiveMills(); b.Mill == "" && len(active) == 1 {
					b.Mill = active[0].Name
				}
				return &b, nil
			})
		},
	}
	c.Flags().StringVar(&b.Mill, "mill", "", "")
	wordVar(c, env, (*string)(&b.Part), "part", millParts)
	wordVar(c, env, (*string)(&b.What), "what", upkeeps)
	yesNoVar(c, &b.Sound, "sound")
	quantityVar(c, &b.Before, "before", quantity.Mass)
	quantityVar(c, &b.After, "after", quantity.Mass)
	common.flags(c, env)
	shopFlag(c)
	completesFlag(c, env, "mill", millsInUse)
	return c
}
