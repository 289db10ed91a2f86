package cli

import (
	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/plan/traceability"
	"hopperful/shop"
)

func ageCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use:   "age LOT",
		Short: "How often a lot's plastic was melted, and what passes and water made of it",
		Long: `Shows how much of a lot was melted how often, the melt flow and strength that
makes, and what the water it was melted with did to its chains. A melt-flow test
of the lot stands before any forecast, and is where the lots made of it start;
tests of older lots teach what a pass does. What nobody wrote down is a range.`,
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
