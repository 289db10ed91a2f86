package cli

import (
	"github.com/spf13/cobra"

	"hopperful/plan"
	"hopperful/plan/sieving"
)

func learnCommand(env *Env) *cobra.Command {
	var mill string
	c := &cobra.Command{
		Use: "learn",
		Example: `  hopperful learn
  hopperful learn --mill Rattle --why break_rate
  hopperful learn --json`,
		Args: takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			l, err := plan.Learn(state, mill)
			if err != nil {
				return err
			}
			screen, err := sieving.Screen(state, l.Mill)
			if err != nil {
				return err
			}
			doc := l.Document()
			screen.Tell(&doc)
			return answers(c, env, speaks(env, state), doc)
		},
	}
	c.Flags().StringVar(&mill, "mill", "", "")
	whyFlag(c, "break_rate")
	shopFlag(c)
	completesFlag(c, env, "mill", millsInUse)
	return c
}
