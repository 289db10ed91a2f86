package cli

import (
	"github.com/spf13/cobra"

	"hopperful/internal/account"
	"hopperful/internal/store"
)

func moveCommand(env *Env) *cobra.Command {
	return &cobra.Command{
		Use:     "move FROM TO",
		Example: `  hopperful move lantern.hopperful bench.hopperful`,
		Args:    takes(2, 2, "where the shop is and where it goes"),
		RunE: func(c *cobra.Command, args []string) error {
			from, to := args[0], args[1]
			if err := must(c.Context(), env, from, account.Own); err != nil {
				return err
			}
			done, err := store.Move(c.Context(), from, to, env.Now())
			if err != nil {
				return err
			}
			if asJSON(c) {
				return writeJSON(env, struct {
					Shop    string `json:"shop"`
					From    string `json:"from"`
					Records int    `json:"records"`
					Seal    string `json:"seal"`
					Kept    string `json:"kept"`
				}{store.Shown(to), store.Shown(from), done.Records, done.Seal, done.Kept})
			}
			plain(env.Out, "%s: %s, each with the seal it had in %s.", store.Shown(to), countedRecords(done.Records), store.Shown(from))
			plain(env.Out, "The old one is kept as %s. From now on: --shop or %s with the new address.", done.Kept, shopVariable)
			return nil
		},
	}
}
