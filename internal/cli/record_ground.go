package cli

import (
	"github.com/spf13/cobra"

	"hopperful/shop"
)

func groundCommand(env *Env) *cobra.Command {
	var common noting
	var charge, run *float64
	var from, into string
	b := shop.Ground{}
	c := &cobra.Command{
		Use:   "ground",
		Short: "One run of the mill on one charge",
		Long: `Writes down one run. The more of it is measured, the more the next plan knows:
product and what stayed in the mill first, then energy, then temperatures.`,
		Example: `  hopperful record ground --mill Rattle --from S1 --charge 90g --run 62s --level 10 --product 78g --left 11g
  hopperful record ground --mill Rattle --from S4 --into R3 --charge 70g --run "1 min 30 s" --level 11 --product 55g --wall-before 19°C --wall-after 42°C --energy 17Wh`,
		Args: takes(0, 0, "flags only"),
		RunE: func(c *cobra.Command, _ []string) error {
			if err := needed(c, "from", "charge", "run"); err != nil {
				return err
			}
			var err error
			if b.From, err = optionalLot(from); err != nil {
				return err
			}
			if b.Into, err = optionalLot(into); err != nil {
				return err
			}
			if b.Charge, err = given(c, "charge", charge); err != nil {
				return err
			}
			if b.Run, err = given(c, "run", run); err != nil {
				return err
			}
			return foretold(c, env, common.write(c, env, func(state *shop.State) (shop.Body, error) {
				if active := state.ActiveMills(); b.Mill == "" && len(active) == 1 {
					b.Mill = active[0].Name
				}
				return &b, nil
			}))
		},
	}
	asks(c, env, b.Kind(), map[string]any{
		"mill": &b.Mill, "from": &from, "into": &into, "level": &b.Level, "charge_kg": &charge, "run_s": &run,
		"product_kg": &b.Product, "left_kg": &b.Left, "swept_kg": &b.Swept,
		"charge_before_k": &b.ChargeBefore, "charge_after_k": &b.ChargeAfter, "wall_before_k": &b.WallBefore, "wall_after_k": &b.WallAfter,
		"room_k": &b.Room, "rest_before_s": &b.RestBefore, "energy_j": &b.Energy, "hole_m": &b.Hole, "stalled": &b.Stalled,
	})
	common.flags(c, env)
	shopFlag(c)
	completesFlag(c, env, "mill", millsInUse)
	completesFlag(c, env, "from", lotsOnHand)
	completesFlag(c, env, "into", lotsOnHand)
	return c
}
