package cli

import (
	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/account"
	"hopperful/internal/store"
)

func restoreCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use: "restore FILE",
		Example: `  hopperful backup copy.hopperful
  hopperful restore copy.hopperful --shop again.hopperful`,
		Args: takes(1, 1, "takes.the_backup_to_go_back"),
		RunE: func(c *cobra.Command, args []string) error {
			path, err := shopPath(c, env)
			if err != nil {
				return err
			}
			if err := must(c.Context(), env, path, account.Own); err != nil {
				return err
			}
			done, err := store.Restore(c.Context(), args[0], path, env.Now())
			if err != nil {
				return err
			}
			if asJSON(c) {
				return writeJSON(env, struct {
					Shop    string `json:"shop"`
					From    string `json:"from"`
					Records int    `json:"records"`
					Kept    string `json:"kept,omitempty"`
				}{store.Shown(path), store.Shown(args[0]), done.Records, done.Kept})
			}
			plain(env.Out, "%s", env.speaks().Line("cli.as_in", fact.Name("path", store.Shown(path)), fact.Count("n", done.Records), fact.Name("word", store.Shown(args[0]))))
			if done.Kept != "" {
				plain(env.Out, "%s", env.speaks().Line("cli.before_kept", fact.Name("kept", done.Kept)))
			}
			return nil
		},
	}
	shopFlag(c)
	return c
}
