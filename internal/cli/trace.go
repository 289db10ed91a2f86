package cli

import (
	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/plan/traceability"
	"hopperful/shop"
)

func traceCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use: "trace LOT",
		Example: `  hopperful trace R1
  hopperful trace R1 --json`,
	}
	return aboutLot(env, c, func(s *shop.State, id shop.LotID) (answer.Document, error) {
		t, err := traceability.Trace(s, id)
		return t.Document, err
	})
}
