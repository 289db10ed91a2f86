package cli

import (
	"github.com/spf13/cobra"

	"hopperful/plan/plausibility"
	"hopperful/shop"
)

func confirmedCommand(env *Env) *cobra.Command {
	var common noting
	c := &cobra.Command{
		Use:   "confirmed RECORD",
		Short: "Yes, it is so: answer what was asked about a record",
		Long: `A record that can hardly be true is kept and asked about; until it is answered
nothing is learned from it. This says that it is so. Where it is not, correct the
record instead. hopperful records --asked lists what waits for an answer.`,
		Example: `  hopperful record confirmed 78 --note "half of it was spilled"`,
		Args:    takes(1, 1, "one record's number"),
		RunE: func(c *cobra.Command, args []string) error {
			id, err := number(c, args[0])
			if err != nil {
				return err
			}
			return common.write(c, env, func(state *shop.State) (shop.Body, error) {
				b := shop.Confirmed{Record: id}
				for _, q := range plausibility.Of(state, id) {
					b.Codes = append(b.Codes, q.Code)
				}
				return &b, nil
			})
		},
	}
	f := c.Flags()
	f.StringVar(&common.by, "by", "", "who says so")
	f.StringVar(&common.note, "note", "", "how you know")
	shopFlag(c)
	return c
}
