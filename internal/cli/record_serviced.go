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
	r, b := recording{env: env, needs: []string{"part", "what"}}, shop.Serviced{}
	r.Command = &cobra.Command{
		Use: "serviced",
		Example: `  hopperful record serviced --mill Rattle --part screen --what inspected --sound yes
  hopperful record serviced --mill Rattle --part blade --what sharpened --sound yes --before 187.1g --after 186.0g
  hopperful record serviced --mill Rattle --part seal --what "found damaged" --sound no --note "cracked at the hinge"`,
		Args: takes(0, 0, "takes.flags_only"),
	}
	r.Flags().StringVar(&b.Mill, "mill", "", "")
	wordVar(r.Command, env, (*string)(&b.Part), "part", millParts)
	wordVar(r.Command, env, (*string)(&b.What), "what", upkeeps)
	yesNoVar(r.Command, &b.Sound, "sound")
	quantityVar(r.Command, &b.Before, "before", quantity.Mass)
	quantityVar(r.Command, &b.After, "after", quantity.Mass)
	completesFlag(r.Command, env, "mill", millsInUse)
	return r.making(func(state *shop.State) (shop.Body, error) {
		if active := state.ActiveMills(); b.Mill == "" && len(active) == 1 {
			b.Mill = active[0].Name
		}
		return &b, nil
	})
}
