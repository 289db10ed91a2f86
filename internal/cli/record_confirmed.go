package cli

import (
	"github.com/spf13/cobra"

	"hopperful/plan/plausibility"
	"hopperful/shop"
)

func confirmedCommand(env *Env) *cobra.Command {
	var common noting
	c := &cobra.Command{
		Use:     "confirmed RECORD",
		Example: `  hopperful record confirmed 78 --note "half of it was spilled"`,
		Args:    takes(1, 1, "takes.one_record_s_number"),
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
	f.StringVar(&common.by, "by", "", "")
	f.StringVar(&common.note, "note", "", "")
	shopFlag(c)
	return c
}
