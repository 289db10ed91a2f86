package cli

import (
	"time"

	"github.com/spf13/cobra"

	"hopperful/plan"
)

func planCommand(env *Env) *cobra.Command {
	var reading readingFlags
	var lotWords []string
	var mill string
	var by time.Time
	var seed uint64
	var draws int
	c := &cobra.Command{
		Use: "plan NEED",
		Example: `  hopperful plan 240g --polymer PLA --colour black
  hopperful plan vase.gcode --polymer PETG --mill Grumble --ready-by 18:00
  hopperful plan 200g --polymer PETG --lot S5 --mill Grumble --json
  hopperful plan 90g --polymer PLA --colour white --why need`,
		Args: takes(1, 1, "takes.one_need_a_file_a"),
		RunE: func(c *cobra.Command, args []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			found, err := reading.find(c, env, state, args[0])
			if err != nil {
				return err
			}
			req := plan.Request{Need: found.Need, Mill: mill, Now: env.Now(), By: by, Seed: seed, Draws: draws, Moved: true}
			if req.Lots, err = lots(lotWords); err != nil {
				return err
			}
			g, err := plan.Grind(state, req)
			if err != nil {
				return err
			}
			if err := answers(c, env, speaks(env, state), g.Document()); err != nil || asJSON(c) || c.Flags().Changed("why") {
				return err
			}
			offerCampaign(env, state, g, args[0], req)
			return nil
		},
	}
	reading.flags(c)
	f := c.Flags()
	f.StringArrayVar(&lotWords, "lot", nil, "")
	f.StringVar(&mill, "mill", "", "")
	f.Var(whenFlag{now: env.Now, ahead: true, into: &by}, "ready-by", "")
	f.Uint64Var(&seed, "seed", 0, "")
	f.IntVar(&draws, "draws", 0, "")
	whyFlag(c, "charge")
	shopFlag(c)
	completes(c, env, openNeeds, cobra.ShellCompDirectiveDefault)
	completesFlag(c, env, "lot", lotsOnHand)
	completesFlag(c, env, "mill", millsInUse)
	completesFlag(c, env, "polymer", knownMaterials)
	return c
}
