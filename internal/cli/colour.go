package cli

import (
	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/plan/traceability"
	"hopperful/shop"
)

func colourCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use:   "colour LOT",
		Short: "What a lot looks like, melted well and side by side, and how sure that is",
		Long: `Says a lot's colour in words, as a code and as L*a*b*: as it was taken with record
coloured, else mixed from the lots it was made of, once melted well and once side
by side. A print lies between the two.

The colours of prints and melted chips teach how strongly each lot tints; what was
learned, and from how many, stands with it. A lot of which a part has no colour
yet names the lots to take it of.`,
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
