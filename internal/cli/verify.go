package cli

import (
	"time"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/store"
)

// verifiedJSON is what verify --json prints.
type verifiedJSON struct {
	File        string `json:"file"`
	Form        int    `json:"form"`
	Records     int    `json:"records"`
	Newest      string `json:"newest,omitempty"`
	Seal        string `json:"seal,omitempty"`
	WrittenFrom int64  `json:"written_from,omitempty"`
}

func verifyCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use: "verify [FILE]",
		Example: `  hopperful verify
  hopperful verify --shop lantern.hopperful`,
		Args: takes(0, 1, "takes.at_most_one_file"),
		RunE: func(c *cobra.Command, args []string) error {
			path, err := shopPath(c, env)
			if err != nil {
				return err
			}
			if len(args) == 1 {
				path = args[0]
			}
			env.hearShop(c.Context(), path)
			v, err := store.Verify(c.Context(), path)
			if err != nil {
				return err
			}
			if asJSON(c) {
				out := verifiedJSON{store.Shown(path), v.Form, v.Records, "", v.Seal, int64(v.WrittenFrom)}
				if !v.Newest.IsZero() {
					out.Newest = v.Newest.Format(time.RFC3339)
				}
				return writeJSON(env, out)
			}
			tellVerified(env, store.Shown(path), v)
			return nil
		},
	}
	shopFlag(c)
	return c
}

// tellVerified says what was found, and what it proves.
func tellVerified(env *Env, path string, v store.Verified) {
	switch {
	case v.Records == 0:
		plain(env.Out, "%s", env.speaks().Line("cli.a_shop_without_records", fact.Name("path", path)))
		return
	case v.WrittenFrom == 0:
		plain(env.Out, "%s", env.speaks().Line("cli.records_unsealed", fact.Name("path", path), fact.Count("n", v.Records)))
		return
	}
	plain(env.Out, "%s", env.speaks().Line("cli.records_sealed", fact.Name("path", path), fact.Count("n", v.Records)))
	plain(env.Out, "%s", env.speaks().Line("cli.newest_record", fact.Name("value", v.Newest.Format("2006-01-02 15:04")), fact.Name("seal", v.Seal[:16])))
	if v.WrittenFrom > 1 {
		plain(env.Out, "%s", env.speaks().Line("cli.sealed_since", fact.Count("written_from", int(v.WrittenFrom-1))))
	}
}
