package cli

import (
	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/plan/identification"
	"hopperful/polymer/identify"
	"hopperful/quantity"
	"hopperful/shop"
)

func identifyLiquidCommand(env *Env) *cobra.Command {
	var at *float64
	c := &cobra.Command{
		Use: "liquid NAME [DENSITY|STRENGTH]",
		Example: `  hopperful identify liquid brine 1.08g/cm3
  hopperful identify liquid ethanol 40% --temperature 25°C
  hopperful identify liquid water`,
		Args: takes(1, 2, "takes.a_liquid_and_a_density"),
		RunE: func(c *cobra.Command, args []string) error {
			r, err := liquidAsked(c, args)
			if err != nil {
				return err
			}
			if at != nil {
				r.Temperature = *at
			}
			state, err := readShopIfAny(c, env)
			if err != nil {
				return err
			}
			p := speaks(env, state)
			out, err := identification.Liquid(r)
			if err != nil {
				return err
			}
			return answers(c, env, p, out.Document)
		},
	}
	quantityVar(c, &at, "temperature", quantity.Temperature)
	whyFlag(c, "density")
	shopFlag(c)
	completes(c, env, func(*shop.State) []string {
		var names []string
		for _, l := range identify.Liquids() {
			names = append(names, string(l))
		}
		return names
	}, cobra.ShellCompDirectiveNoFileComp)
	return c
}

// liquidAsked reads the words of the command.
func liquidAsked(c *cobra.Command, args []string) (r identification.LiquidRequest, err error) {
	if r.Liquid, err = identify.FindLiquid(args[0]); err != nil {
		return r, usage(c, err)
	}
	if len(args) == 1 {
		if r.Liquid != identify.Water {
			return r, usagef(c, fact.Say("cli.do_say_density", fact.Name("command", c.CommandPath()+" "+args[0]), fact.Name("command2", c.CommandPath()+" "+args[0])))
		}
		return r, nil
	}
	if r.Density, err = quantity.Density.Parse(args[1]); err == nil {
		if r.Density <= 0 {
			return r, usagef(c, fact.Say("cli.not_a_density", fact.Name("value", quantity.Density.Show(r.Density))))
		}
		return r, nil
	}
	if r.Strength, err = quantity.Share.Parse(args[1]); err != nil {
		return r, usagef(c, fact.Say("cli.not_density_or_strength", fact.Name("word", shortened(args[1]))))
	}
	return r, nil
}
