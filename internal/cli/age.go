package cli

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/plan/lineage"
	"hopperful/quantity"
)

func ageCommand(env *Env) *cobra.Command {
	why := ""
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
	c.Flags().StringVar(&why, "why", "", "unfold the figure of this key, such as melt_flow; all: every figure")
	return aboutLot(env, c, lineage.AgeOf, func(c *cobra.Command, a lineage.LotAge) error {
		if why != "" {
			return whyOf(c, env, a.Figures(), why)
		}
		printAge(env, a)
		return nil
	})
}

func printAge(env *Env, a lineage.LotAge) {
	plain(env.Out, "%s", a.Answer)
	heading(env, "How much of %s was melted how often", a.Lot)
	printShares(env, a.Shares)
	heading(env, "What that makes of it")
	printFigures(env, a.Figures())
	if len(a.Notes) > 0 {
		heading(env, "Notes")
		for _, n := range a.Notes {
			plain(env.Out, "  %s", n)
		}
	}
}

// printShares draws the shares by passes, a line each; what is less than a
// thousandth is taken together, and gaps of nothing stay out.
func printShares(env *Env, shares []float64) {
	const width, least = 40, 1e-3
	g := newGrid(env, ">passes", ">share", "")
	rest, from := 0.0, 0
	for n, s := range shares {
		if s < least {
			if rest += s; s > 0 && from == 0 {
				from = n
			}
			continue
		}
		g.row(fmt.Sprint(n), quantity.Share.Rough(s), strings.Repeat("#", max(1, int(math.Round(s*width)))))
	}
	if rest > 0 {
		g.row(fmt.Sprintf("others, from %d", from), quantity.Share.Rough(rest), "")
	}
	g.print()
}
