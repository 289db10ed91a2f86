package cli

import (
	"github.com/spf13/cobra"

	"hopperful/internal/account"
	"hopperful/internal/store"
)

func moveCommand(env *Env) *cobra.Command {
	return &cobra.Command{
		Use:   "move FROM TO",
		Short: "Move a shop from a file to a server, or back",
		Long: `Writes the whole shop anew at TO, every record with its seal, photographs, accounts
and the keys of what was sent; verifies it and holds it against the old one; and only
then gives the old one another name, which is told. FROM and TO are files, or shops on
a PostgreSQL server: postgres://USER@HOST/DATABASE#SHOP. Nobody can write to FROM
meanwhile. Log-ins do not come along.`,
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
