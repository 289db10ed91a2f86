package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/plan"
	"hopperful/plan/sieving"
	"hopperful/shop"
)

func learnCommand(env *Env) *cobra.Command {
	var mill string
	c := &cobra.Command{
		Use: "learn",
		Example: `  hopperful learn
  hopperful learn --mill Rattle --why break_rate
  hopperful learn --json`,
		Args: takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			l, err := plan.Learn(state, mill)
			if err != nil {
				return err
			}
			screen, err := sieving.Screen(state, l.Mill)
			if err != nil {
				return err
			}
			doc := l.Document()
			screen.Tell(&doc)
			return answers(c, env, speaks(env, state), doc)
		},
	}
	c.Flags().StringVar(&mill, "mill", "", "")
	whyFlag(c, "break_rate")
	shopFlag(c)
	completesFlag(c, env, "mill", millsInUse)
	return c
}

// foretold says, after a charge was written down, what the records before it
// had foretold. err is that of writing it down. With --json the answer is the
// record alone.
func foretold(c *cobra.Command, env *Env, err error) error {
	if err != nil || asJSON(c) {
		return err
	}
	state, err := readShop(c, env)
	if err != nil {
		return err
	}
	id := state.Newest().ID
	if old := state.Newest().Corrects; old != 0 { // a corrected record keeps its number
		id = old
	}
	if r, ok := state.Record(id); !ok || r.Body.Kind() != (*shop.Ground)(nil).Kind() {
		return nil
	}
	f, err := plan.Compare(state, id)
	if err != nil { // the charge is kept all the same
		fmt.Fprintln(env.Err, env.speaks().Line("cli.no_forecast", fact.Name("why", err.Error())))
		return nil
	}
	for _, told := range speaks(env, state).All(f.Told()) {
		plain(env.Out, "%s", told)
	}
	return nil
}
