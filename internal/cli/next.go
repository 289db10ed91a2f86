package cli

import (
	"github.com/spf13/cobra"

	"hopperful/plan/next"
)

func nextCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use:   "next",
		Short: "What to do now, the most useful first",
		Example: `  hopperful next
  hopperful next --json`,
		Args: takes(0, 0, "no words"),
		RunE: func(c *cobra.Command, _ []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			advice := append([]next.Advice{}, next.Of(state)...)
			if asJSON(c) {
				return writeJSON(env, struct {
					Next []next.Advice `json:"next"`
				}{advice})
			}
			if len(advice) == 0 {
				plain(env.Out, "Nothing waits. hopperful need FILE --save NAME starts the next print.")
			}
			for i, a := range advice {
				plain(env.Out, "%d. %s. %s", i+1, a.Do, sentence(a.Why))
				plain(env.Out, "   %s", commandFor(a))
			}
			return nil
		},
	}
	shopFlag(c)
	return c
}

// commandFor is the command an advice is acted upon with.
func commandFor(a next.Advice) string {
	switch a.To {
	case next.ToMill:
		return "hopperful machines set mill --name …"
	case next.ToScale:
		return "hopperful machines set scale --name … --resolution 1g"
	case next.ToTakeIn:
		return "hopperful take-in 1.2kg --polymer …"
	case next.ToNeed:
		return "hopperful need FILE --polymer … --save …"
	case next.ToPlan:
		return "hopperful plan \"" + a.Ref + "\""
	case next.ToBlend:
		return "hopperful blend \"" + a.Ref + "\""
	case next.ToLot:
		return "hopperful stock " + a.Ref
	case next.ToFind:
		return "hopperful identify --ask --lot " + a.Ref
	case next.ToCharge:
		return "hopperful record ground --mill \"" + a.Ref + "\" --from … --charge … --run …"
	}
	return ""
}
