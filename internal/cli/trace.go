package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/plan/lineage"
	"hopperful/quantity"
	"hopperful/shop"
)

func traceCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use:   "trace LOT",
		Short: "The family of a lot: up to what came from outside, down to the prints",
		Long: `Shows where a lot came from and what became of it, as two trees with the mass
that went along each edge and the records that say so. A lot that turns up twice
is unfolded once. The shares on the way up are of the lot asked for; those on the
way down say how much of the later lot is of it.`,
		Example: `  hopperful trace R1
  hopperful trace R1 --json`,
	}
	return aboutLot(env, c, lineage.Trace, func(_ *cobra.Command, t lineage.Tracing) error {
		printTracing(env, t)
		return nil
	})
}

// printTracing shows both trees, the older lots first.
func printTracing(env *Env, t lineage.Tracing) {
	plain(env.Out, "%s", t.Answer)
	heading(env, "Came from")
	if t.Outside > 0 {
		plain(env.Out, "  %s from outside the shop", mass(t.Outside))
	}
	printBranches(env, t.From, 1, "of "+string(t.Lot.Lot))
	heading(env, "Went to")
	printBranches(env, t.To, 1, "of it is "+string(t.Lot.Lot))
	plain(env.Out, "  %s still on hand", mass(t.OnHand))
	switch {
	case t.Lost > 0:
		plain(env.Out, "  %s lost: dust, waste, purge, water, recounts", mass(t.Lost))
	case t.Lost < 0:
		plain(env.Out, "  %s more found at a recount", mass(-t.Lost))
	}
	if t.InMills > 0 {
		plain(env.Out, "  %s in a mill, not weighed yet or left in it", mass(t.InMills))
	}
}

// printBranches is one level of a tree, indented by its depth.
func printBranches(env *Env, branches []lineage.Branch, depth int, of string) {
	for _, b := range branches {
		line := fmt.Sprintf("%s%s  %s, %s  %s (%s %s)  %s", strings.Repeat("  ", depth), b.Lot,
			kindOf(b.Relative), material(b.Polymer, b.Colour), mass(b.Mass), quantity.Share.Rough(b.Share), of, recordList(b.Records))
		if b.Again {
			line += "  (unfolded elsewhere)"
		}
		plain(env.Out, "%s", line)
		printBranches(env, b.Branches, depth+1, of)
	}
}

// kindOf is a relative's class and the owner's words for it.
func kindOf(r lineage.Relative) string {
	return classAnd(&shop.Lot{Class: r.Class, Name: r.Name})
}

// recordList names records: "record 3", "records 3, 4 and 5 more".
func recordList(ids []shop.RecordID) string {
	if len(ids) == 1 {
		return fmt.Sprintf("record %d", ids[0])
	}
	words := make([]string, 0, 4)
	for _, id := range ids[:min(3, len(ids))] {
		words = append(words, fmt.Sprint(id))
	}
	if len(ids) > 3 {
		words = append(words, fmt.Sprintf("%d more", len(ids)-3))
	}
	return "records " + strings.Join(words, ", ")
}
