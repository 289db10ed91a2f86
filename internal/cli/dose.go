package cli

import (
	"time"

	"github.com/spf13/cobra"

	"hopperful/plan/dose"
	"hopperful/quantity"
)

func doseCommand(env *Env) *cobra.Command {
	var day, who string
	var level, background, beside, more, floor, height *float64
	c := &cobra.Command{
		Use:   "dose",
		Short: "Noise and dust of the day: what ears have had, what is planned, where fines lie",
		Long: `Reckons from the runs of a day how much noise each person has had, by the values of
the European directive 2003/10/EC and by the schemes of NIOSH and OSHA, what is
still planned, and the time that is left. Says what fines were made and where they
lie. Local rules decide; this is a reckoning from notes.`,
		Example: `  hopperful dose
  hopperful dose --day 2026-11-25 --by Ada
  hopperful dose --at-ear 94dB(A) --background 80dB(A) --more 40min
  hopperful dose --floor 12m2 --height 2.5m --full`,
		Args: takes(0, 0, "flags only"),
		RunE: func(c *cobra.Command, _ []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			o := dose.Options{Day: env.Now(), Who: who}
			if day != "" {
				if o.Day, err = time.ParseInLocation(time.DateOnly, day, o.Day.Location()); err != nil {
					return usagef(c, "--day %s is no day; write 2026-11-25.", day)
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
			return answers(c, env, speaks(c, env, state), doc)
		},
	}
	c.Flags().StringVar(&day, "day", "", "the day: 2026-11-25; empty: today")
	c.Flags().StringVar(&who, "by", "", "only this person")
	quantityVar(c, &level, "at-ear", quantity.SoundLevel, "measured at the ear while the mill turns; empty: as the mill says")
	quantityVar(c, &background, "background", quantity.SoundLevel, "with --at-ear: the same without the mill")
	quantityVar(c, &beside, "beside", quantity.SoundLevel, "of what sounds together with the mill, such as a vacuum")
	quantityVar(c, &more, "more", quantity.Duration, "time at the mill still planned; empty: what campaigns that go on need")
	quantityVar(c, &floor, "floor", quantity.Area, "floor of the room, to judge dust that lies about: 12m2")
	quantityVar(c, &height, "height", quantity.Length, "height of the room; empty: 2.4 m")
	shopFlag(c)
	return c
}
