package cli

import (
	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/plan/traceability"
	"hopperful/shop"
)

func ageCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use: "age LOT",
		Example: `  hopperful age R1
  hopperful age R1 --why melt_flow
  hopperful age R1 --json`,
	}
	whyFlag(c, "melt_flow")
	return aboutLot(env, c, func(s *shop.State, id shop.LotID) (answer.Document, error) {
		a, err := traceability.AgeOf(s, id)
		return a.Document, err
	})
}
