package cli

import (
	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/account"
	"hopperful/internal/store"
)

func moveCommand(env *Env) *cobra.Command {
	return &cobra.Command{
		Use:     "move FROM TO",
		Example: `  hopperful move lantern.hopperful bench.hopperful`,
		Args:    takes(2, 2, "takes.where_the_shop_is_and"),
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
			plain(env.Out, "%s", env.speaks().Line("cli.records_moved", fact.Name("to", store.Shown(to)), fact.Count("n", done.Records), fact.Name("from", store.Shown(from))))
			plain(env.Out, "%s", env.speaks().Line("cli.old_shop_kept", fact.Name("kept", done.Kept), fact.Name("shop_variable", shopVariable)))
			return nil
		},
	}
}
