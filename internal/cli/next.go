package cli

import (
	"github.com/spf13/cobra"

	"hopperful/plan/next"
)

func nextCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use: "next",
		Example: `  hopperful next
  hopperful next --json`,
		Args: takes(0, 0, "takes.no_words"),
		RunE: func(c *cobra.Command, _ []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			return answers(c, env, speaks(env, state), next.Of(state))
		},
	}
	shopFlag(c)
	return c
}
