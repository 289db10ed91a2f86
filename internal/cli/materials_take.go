package cli

import (
	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/store"
)

func materialTakeCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use: "take SHOP",
		Example: `  hopperful materials set PLA density 1.26g/cm3 --shop lantern.hopperful
  hopperful machines set shop --name "North" --shop north.hopperful
  hopperful materials take lantern.hopperful --shop north.hopperful`,
		Args: takes(1, 1, "takes.the_other_shop"),
		RunE: func(c *cobra.Command, args []string) error {
			other, err := stateAt(c.Context(), env, args[0])
			if err != nil {
				return err
			}
			b, err := openShop(c, env)
			if err != nil {
				return err
			}
			defer b.Close()
			state, err := b.State()
			if err != nil {
				return err
			}
			from := store.Shown(args[0])
			records := state.HandOn(other, from)
			if len(records) > 0 {
				if _, _, err := b.AppendAll(c.Context(), records...); err != nil {
					return err
				}
			}
			if asJSON(c) {
				return writeJSON(env, struct {
					From  string `json:"from"`
					Taken int    `json:"taken"`
				}{from, len(records)})
			}
			if len(records) == 0 {
				plain(env.Out, "%s", env.speaks().Line("cli.materials_nothing_new", fact.Name("from", from)))
				return nil
			}
			plain(env.Out, "%s", env.speaks().Line("cli.materials_taken", fact.Name("from", from), fact.Count("n", len(records))))
			return nil
		},
	}
	shopFlag(c)
	return c
}
