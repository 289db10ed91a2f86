package cli

import (
	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/plan/traceability"
	"hopperful/shop"
)

func colourCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use: "colour LOT",
		Example: `  hopperful colour R1
  hopperful colour P12
  hopperful colour R4 --json`,
	}
	whyFlag(c, "colour_doubt")
	return aboutLot(env, c, func(s *shop.State, id shop.LotID) (answer.Document, error) {
		seen, err := traceability.ColourOf(s, id)
		return seen.Document, err
	})
}
