package cli

import (
	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/plan/traceability"
	"hopperful/shop"
)

func traceCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use:   "trace LOT",
		Short: "The family of a lot: up to what came from outside, down to the prints",
		Long: `Shows where a lot came from and what became of it, as two lists with the mass
that went along each edge and the records that say so. A lot that turns up twice
is unfolded once; the level says how many lots away one is. The shares on the way up are of the lot asked for; those on the
way down say how much of the later lot is of it.`,
		Example: `  hopperful trace R1
  hopperful trace R1 --json`,
	}
	return aboutLot(env, c, func(s *shop.State, id shop.LotID) (answer.Document, error) {
		t, err := traceability.Trace(s, id)
		return t.Document, err
	})
}
