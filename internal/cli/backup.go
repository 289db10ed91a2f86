package cli

import (
	"os"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/store"
)

func backupCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use:     "backup FILE",
		Example: `  hopperful backup monday.hopperful`,
		Args:    takes(1, 1, "takes.the_file_to_write"),
		RunE: func(c *cobra.Command, args []string) error {
			path, err := shopPath(c, env)
			if err != nil {
				return err
			}
			s, err := openToLook(c.Context(), env, path)
			if err != nil {
				return err
			}
			defer s.Close()
			if err := s.Backup(c.Context(), args[0]); err != nil {
				return err
			}
			facts, err := os.Stat(args[0])
			if err != nil {
				return err
			}
			records := s.State().History.Len()
			if asJSON(c) {
				return writeJSON(env, struct {
					Shop    string `json:"shop"`
					File    string `json:"file"`
					Records int    `json:"records"`
					Bytes   int64  `json:"bytes"`
				}{store.Shown(path), args[0], records, facts.Size()})
			}
			plain(env.Out, "%s", env.speaks().Line("cli.records_kb", fact.Name("word", args[0]), fact.Count("records", records), fact.Count("word2", int((facts.Size()+999)/1000))))
			return nil
		},
	}
	shopFlag(c)
	return c
}
