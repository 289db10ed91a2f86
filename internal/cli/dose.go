package cli

import (
	"time"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/plan/dose"
	"hopperful/quantity"
)

func doseCommand(env *Env) *cobra.Command {
	var day, who string
	var level, background, beside, more, floor, height *float64
	c := &cobra.Command{
		Use: "dose",
		Example: `  hopperful dose
  hopperful dose --day 2026-11-25 --by Ada
  hopperful dose --at-ear 94dB(A) --background 80dB(A) --more 40min
  hopperful dose --floor 12m2 --height 2.5m --full`,
		Args: takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			o := dose.Options{Day: env.Now(), Who: who}
			if day != "" {
				if o.Day, err = time.ParseInLocation(time.DateOnly, day, o.Day.Location()); err != nil {
					return usagef(c, fact.Say("cli.not_a_day", fact.Name("day", day)))
				}
			}
			for _, f := range []struct{ from, to *float64 }{{level, &o.Level}, {background, &o.Background}, {beside, &o.Beside}, {more, &o.More}, {floor, &o.Floor}, {height, &o.Height}} {
				if f.from != nil {
					*f.to = *f.from
				}
			}
			doc, err := dose.Of(state, o)
			if err != nil {
				return err
			}
			return answers(c, env, speaks(env, state), doc)
		},
	}
	c.Flags().StringVar(&day, "day", "", "")
	c.Flags().StringVar(&who, "by", "", "")
	quantityVar(c, &level, "at-ear", quantity.SoundLevel)
	quantityVar(c, &background, "background", quantity.SoundLevel)
	quantityVar(c, &beside, "beside", quantity.SoundLevel)
	quantityVar(c, &more, "more", quantity.Duration)
	quantityVar(c, &floor, "floor", quantity.Area)
	quantityVar(c, &height, "height", quantity.Length)
	shopFlag(c)
	return c
}
