package cli

import (
	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/store"
	"hopperful/internal/tokens"
)

func tokenCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use: "token",
		Example: `  hopperful token create "weigh bench" --scope record
  hopperful token list`,
		Args: unknownCommand,
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(tokenCreateCommand(env), tokenListCommand(env), tokenRevokeCommand(env))
	return c
}

// tokensOf is where the tokens of the command's shop are kept. The shop must be there.
func tokensOf(c *cobra.Command, env *Env) (tokens.Folder, error) {
	state, err := readShop(c, env)
	if err != nil {
		return "", err
	}
	speaks(env, state)
	path, err := shopPath(c, env)
	if err == nil {
		path, err = besideShop(env, path)
	}
	return tokens.Folder(store.Beside(path, tokens.Ending)), err
}

func tokenCreateCommand(env *Env) *cobra.Command {
	scope := string(tokens.Read)
	c := &cobra.Command{
		Use: "create NAME",
		Example: `  hopperful token create meter
  hopperful token create "weigh bench" --scope record`,
		Args: takes(1, 1, "takes.the_name_of_the_program"),
		RunE: func(c *cobra.Command, args []string) error {
			folder, err := tokensOf(c, env)
			if err != nil {
				return err
			}
			t, secret, err := folder.Make(args[0], tokens.Scope(scope), env.Now())
			if err != nil {
				return err
			}
			if asJSON(c) {
				return writeJSON(env, struct {
					tokens.Token
					Secret string `json:"token"`
				}{t, secret})
			}
			plain(env.Err, "%s", env.speaks().Line("token.made", fact.Name("name", t.Name)))
			plain(env.Out, "%s", secret)
			return nil
		},
	}
	c.Flags().Var(wordFlag{[]string{string(tokens.Read), string(tokens.Record)}, &scope}, "scope", "")
	shopFlag(c)
	return c
}

func tokenListCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use:     "list",
		Example: `  hopperful token list`,
		Args:    takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			folder, err := tokensOf(c, env)
			if err != nil {
				return err
			}
			all, err := folder.List()
			if err != nil {
				return err
			}
			if asJSON(c) {
				return writeJSON(env, struct {
					Tokens []tokens.Token `json:"tokens"`
				}{append([]tokens.Token{}, all...)})
			}
			if len(all) == 0 {
				plain(env.Out, "%s %s", env.speaks().Line("token.none"), env.speaks().Line("token.first"))
				return nil
			}
			g := newGrid(env, "cell.id", "cell.program", "cell.may", "cell.made")
			for _, t := range all {
				g.row(t.ID, t.Name, string(t.Scope), t.Made.Local().Format("2006-01-02 15:04"))
			}
			g.print()
			return nil
		},
	}
	shopFlag(c)
	return c
}

func tokenRevokeCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use: "revoke ID",
		Example: `  hopperful token create meter
  hopperful token revoke meter`,
		Args: takes(1, 1, "takes.the_id_of_a_token"),
		RunE: func(c *cobra.Command, args []string) error {
			folder, err := tokensOf(c, env)
			if err != nil {
				return err
			}
			t, err := folder.Revoke(args[0])
			if err != nil {
				return err
			}
			if asJSON(c) {
				return writeJSON(env, t)
			}
			plain(env.Out, "%s", env.speaks().Line("token.revoked", fact.Name("name", t.Name)))
			return nil
		},
	}
	shopFlag(c)
	return c
}
