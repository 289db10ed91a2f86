package cli

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

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
		Args: takes(0, 1, "at most one file"),
		RunE: func(c *cobra.Command, args []string) error {
			path, err := shopPath(c, env)
			if err != nil {
				return err
			}
			if len(args) == 1 {
				path = args[0]
			}
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
		plain(env.Out, "%s: a shop without records.", path)
		return
	case v.WrittenFrom == 0:
		plain(env.Out, "%s: %s, all readable. A file of its age has no seals, so a change in it would not be seen; the next opening for writing seals it.", path, countedRecords(v.Records))
		return
	}
	plain(env.Out, "%s: %s, each as it was sealed.", path, countedRecords(v.Records))
	plain(env.Out, "The newest was written on %s; its seal is %s.", v.Newest.Format("2006-01-02 15:04"), v.Seal[:16])
	if v.WrittenFrom > 1 {
		plain(env.Out, "The first %d were sealed when the file was brought up to date: what changed in them before that day cannot be seen.", v.WrittenFrom-1)
	}
}

// countedRecords says how many records there are.
func countedRecords(n int) string {
	if n == 1 {
		return "1 record"
	}
	return fmt.Sprintf("%d records", n)
}
