package cli

import (
	"github.com/spf13/cobra"

	"hopperful/quantity"
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
			if b.From, err = shop.ParseLot(from); err != nil {
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
	f := c.Flags()
	f.StringVar(&b.Mill, "mill", "", "name of the mill; may be left out when there is one")
	f.StringVar(&from, "from", "", "the lot the charge was taken from")
	f.StringVar(&into, "into", "", "the lot the product went into; empty: a new one")
	quantityVar(c, &charge, "charge", quantity.Mass, "mass put in: 90g")
	quantityVar(c, &run, "run", quantity.Duration, "from start to stop: 62s, \"1 min 20 s\"")
	quantityVar(c, &b.Product, "product", quantity.Mass, "mass that came out")
	quantityVar(c, &b.Left, "left", quantity.Mass, "mass that stayed in the mill")
	quantityVar(c, &b.Swept, "swept", quantity.Mass, "dust and spill gathered and thrown away")
	f.Var(levelFlag{&b.Level}, "level", "level of the controller")
	quantityVar(c, &b.ChargeBefore, "charge-before", quantity.Temperature, "temperature of the charge before")
	quantityVar(c, &b.ChargeAfter, "charge-after", quantity.Temperature, "temperature of the charge after")
	quantityVar(c, &b.WallBefore, "wall-before", quantity.Temperature, "temperature of the wall before")
	quantityVar(c, &b.WallAfter, "wall-after", quantity.Temperature, "temperature of the wall after")
	quantityVar(c, &b.Room, "room", quantity.Temperature, "temperature of the room")
	quantityVar(c, &b.RestBefore, "rest", quantity.Duration, "time since the last run's end")
	quantityVar(c, &b.Energy, "energy", quantity.Energy, "what the plug-in meter counted: 11Wh")
	quantityVar(c, &b.Hole, "hole", quantity.Length, "hole of the screen in use, when not the mill's own")
	f.BoolVar(&b.Stalled, "stalled", false, "the blade stood still")
	common.flags(c, env)
	shopFlag(c)
	completesFlag(c, env, "mill", millsInUse)
	completesFlag(c, env, "from", lotsOnHand)
	completesFlag(c, env, "into", lotsOnHand)
	return c
}
