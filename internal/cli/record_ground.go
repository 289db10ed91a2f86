package cli

import (
	"github.com/spf13/cobra"

	"hopperful/shop"
)

// runFlags are what is asked of a run of the mill on one charge.
type runFlags struct {
	charge, run *float64
	from, into  string
	b           shop.Ground
}

// flags adds the flags of a run.
func (r *runFlags) flags(c *cobra.Command, env *Env) {
	b := &r.b
	asks(c, env, b.Kind(), map[string]any{
		"mill": &b.Mill, "from": &r.from, "into": &r.into, "level": &b.Level, "charge_kg": &r.charge, "run_s": &r.run,
		"product_kg": &b.Product, "left_kg": &b.Left, "swept_kg": &b.Swept,
		"charge_before_k": &b.ChargeBefore, "charge_after_k": &b.ChargeAfter, "wall_before_k": &b.WallBefore, "wall_after_k": &b.WallAfter,
		"room_k": &b.Room, "rest_before_s": &b.RestBefore, "energy_j": &b.Energy, "hole_m": &b.Hole, "stalled": &b.Stalled, "emptied": &b.Emptied,
	})
	completesFlag(c, env, "mill", millsInUse)
	completesFlag(c, env, "from", lotsOnHand)
	completesFlag(c, env, "into", lotsOnHand)
}

// chosen puts what was typed into the run; what was not typed stays empty.
func (r *runFlags) chosen() (err error) {
	if r.b.From, err = optionalLot(r.from); err != nil {
		return err
	}
	if r.into != newLot {
		if r.b.Into, err = optionalLot(r.into); err != nil {
			return err
		}
	}
	for into, typed := range map[*float64]*float64{&r.b.Charge: r.charge, &r.b.Run: r.run} {
		if typed != nil {
			*into = *typed
		}
	}
	return nil
}

// newLot is what is typed for a lot of its own.
const newLot = "new"

func groundCommand(env *Env) *cobra.Command {
	var common noting
	var typed runFlags
	c := &cobra.Command{
		Use: "ground",
		Example: `  hopperful record ground --mill Rattle --from S1 --charge 90g --run 62s --level 10 --product 78g --left 11g
  hopperful record ground --mill Rattle --from S4 --into R3 --charge 70g --run "1 min 30 s" --level 11 --product 55g --wall-before 19°C --wall-after 42°C --energy 17Wh`,
		Args: takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			if err := needed(c, "from", "charge", "run"); err != nil {
				return err
			}
			if err := typed.chosen(); err != nil {
				return err
			}
			if _, err := given(c, "charge", typed.charge); err != nil {
				return err
			}
			if _, err := given(c, "run", typed.run); err != nil {
				return err
			}
			return common.write(c, env, func(state *shop.State) (shop.Body, error) {
				if active := state.ActiveMills(); typed.b.Mill == "" && len(active) == 1 {
					typed.b.Mill = active[0].Name
				}
				if typed.into == "" && common.corrects == 0 {
					at := common.at
					if at.IsZero() {
						at = env.Now()
					}
					typed.b.Into = state.RunInto(typed.b.Mill, typed.b.From, at)
				}
				return &typed.b, nil
			})
		},
	}
	typed.flags(c, env)
	common.flags(c, env)
	shopFlag(c)
	return c
}
