package cli

import (
	"strconv"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/account"
	"hopperful/internal/live"
	"hopperful/plan/sensing"
	"hopperful/quantity"
	"hopperful/shop"
)

func confirmSeenCommand(env *Env) *cobra.Command {
	var common noting
	var typed runFlags
	c := &cobra.Command{
		Use:     "confirm NUMBER",
		Example: `  hopperful sensors confirm 1795176021 --from S4 --charge 70g --product 55g --level 11`,
		Args:    takes(1, 1, "takes.the_number_of_a_run"),
		RunE: func(c *cobra.Command, args []string) error {
			id, err := strconv.ParseInt(args[0], 10, 64)
			if err != nil {
				return usagef(c, fact.Say("cli.not_a_run_number", fact.Name("word", args[0])))
			}
			if err := typed.chosen(); err != nil {
				return err
			}
			_, seen, err := sensorsNow(c, env)
			if err != nil {
				return err
			}
			return common.write(c, env, func(state *shop.State) (shop.Body, error) {
				draft, at, err := sensing.Draft(state, seen, id)
				if err != nil {
					return nil, err
				}
				if common.at.IsZero() {
					common.at = at
				}
				body, err := laidOver(c, draft, &typed.b)
				if err != nil {
					return nil, err
				}
				if g, ok := body.(*shop.Ground); ok && g.Into == "" && typed.into == "" {
					g.Into = state.RunInto(g.Mill, g.From, common.at)
				}
				return body, nil
			})
		},
	}
	typed.flags(c, env)
	whenAndWho(c, env, &common)
	return c
}

func asideCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use:     "set-aside NUMBER",
		Example: `  hopperful sensors set-aside 1795176021`,
		Args:    takes(1, 1, "takes.the_number_of_a_run"),
		RunE: func(c *cobra.Command, args []string) error {
			id, err := strconv.ParseInt(args[0], 10, 64)
			if err != nil {
				return usagef(c, fact.Say("cli.not_a_run_number", fact.Name("word", args[0])))
			}
			if err := setAside(c, env, id); err != nil {
				return err
			}
			state, seen, err := sensorsNow(c, env)
			if err != nil {
				return err
			}
			return answers(c, env, speaks(env, state), sensing.Of(state, seen))
		},
	}
	shopFlag(c)
	return c
}

// setAside does it through the server that keeps the runs, else itself.
func setAside(c *cobra.Command, env *Env, id int64) error {
	path, err := shopPath(c, env)
	if err != nil {
		return err
	}
	if through, no := reach(c.Context(), env, path); no == nil {
		return through.SetAside(c.Context(), id)
	}
	if err := must(c.Context(), env, path, account.Record); err != nil { // as on the page
		return err
	}
	_, beside, err := setup(c, env)
	if err != nil {
		return err
	}
	there, err := live.SetAside(beside, id)
	if err == nil && !there {
		return sensing.NoSuchRun(id)
	}
	return ofSensors(err)
}

func idleCommand(env *Env) *cobra.Command {
	var mill string
	var watts *float64
	c := &cobra.Command{
		Use:     "idle",
		Example: `  hopperful sensors idle --mill Grumble --power 118W`,
		Args:    takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			if err := needed(c, "mill"); err != nil {
				return err
			}
			if err := knownMachine(c, env, mill); err != nil {
				return err
			}
			path, err := shopPath(c, env)
			if err == nil {
				err = must(c.Context(), env, path, account.Plan) // as on the page
			}
			if err != nil {
				return err
			}
			if watts == nil {
				_, seen, err := sensorsNow(c, env)
				if err != nil {
					return err
				}
				if watts = seen.LatestFlat(mill); watts == nil {
					return &failure{what: fact.Say("cli.run_none_steady", fact.Name("mill", mill)), advice: fact.Say("cli.do_run_empty")}
				}
			}
			_, beside, err := setup(c, env)
			if err == nil {
				err = live.KeepIdle(beside, mill, *watts)
			}
			if err != nil {
				return ofSensors(err)
			}
			conf, _, err := setup(c, env)
			if err != nil {
				return err
			}
			return showSetup(c, env, conf)
		},
	}
	c.Flags().StringVar(&mill, "mill", "", "")
	quantityVar(c, &watts, "power", quantity.Power)
	shopFlag(c)
	completesFlag(c, env, "mill", millsInUse)
	return c
}

func learnWattsCommand(env *Env) *cobra.Command {
	var mill string
	var write bool
	c := &cobra.Command{
		Use:     "learn",
		Example: `  hopperful sensors learn --mill Grumble`,
		Args:    takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			if err := needed(c, "mill"); err != nil {
				return err
			}
			state, seen, err := sensorsNow(c, env)
			if err != nil {
				return err
			}
			doc, set, err := sensing.Teach(state, seen, mill)
			if err != nil {
				return err
			}
			if !write || set == nil {
				return answers(c, env, speaks(env, state), doc)
			}
			var common noting
			return common.write(c, env, func(*shop.State) (shop.Body, error) { return set, nil })
		},
	}
	c.Flags().StringVar(&mill, "mill", "", "")
	c.Flags().BoolVar(&write, "write", false, "")
	shopFlag(c)
	completesFlag(c, env, "mill", millsInUse)
	return c
}
