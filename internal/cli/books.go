package cli

import (
	"time"

	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/fact"
	keeping "hopperful/plan/books"
	"hopperful/quantity"
	"hopperful/shop"
)

// booksFlags say which books are wanted.
type booksFlags struct {
	from, to, month, lot string
	campaign             int64
	granulate, filament  *float64
	hour, grid           *float64
}

func booksCommand(env *Env) *cobra.Command {
	var f booksFlags
	c := &cobra.Command{
		Use: "books",
		Example: `  hopperful books
  hopperful books --month 2026-11 --granulate 6 --filament 22
  hopperful books --from 2026-01-01 --to 2026-06-30 --json
  hopperful books --lot R1`,
		Args: takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			doc, err := f.answer(c, env, state)
			if err != nil {
				return err
			}
			return answers(c, env, speaks(env, state), doc)
		},
	}
	s := c.Flags()
	s.StringVar(&f.from, "from", "", "")
	s.StringVar(&f.to, "to", "", "")
	s.StringVar(&f.month, "month", "", "")
	s.StringVar(&f.lot, "lot", "", "")
	s.Int64Var(&f.campaign, "campaign", 0, "")
	quantityVar(c, &f.granulate, "granulate", quantity.Number)
	quantityVar(c, &f.filament, "filament", quantity.Number)
	quantityVar(c, &f.hour, "hour", quantity.Number)
	quantityVar(c, &f.grid, "grid", quantity.Number)
	shopFlag(c)
	return c
}

// answer picks the books that are wanted.
func (f *booksFlags) answer(c *cobra.Command, env *Env, state *shop.State) (answer.Document, error) {
	switch {
	case f.lot != "":
		id, err := shop.ParseLot(f.lot)
		if err != nil {
			return answer.Document{}, err
		}
		return keeping.OfLot(state, id)
	case f.campaign != 0:
		return keeping.OfCampaign(state, shop.RecordID(f.campaign))
	}
	o, err := f.options(c, env, state)
	if err != nil {
		return answer.Document{}, err
	}
	b, err := keeping.Of(state, o)
	return b.Document, err
}

func (f *booksFlags) options(c *cobra.Command, env *Env, state *shop.State) (keeping.Options, error) {
	now := env.Now()
	latest := now
	if !state.Last.IsZero() {
		latest = state.Last.In(now.Location())
	}
	o := keeping.Month(latest)
	day := func(flag, text string, at *time.Time, more int) error {
		if text == "" {
			return nil
		}
		t, err := time.ParseInLocation(time.DateOnly, text, now.Location())
		if err != nil {
			return usagef(c, fact.Say("cli.flag_not_a_day", fact.Name("flag", flag), fact.Name("text", text)))
		}
		*at = t.AddDate(0, 0, more)
		return nil
	}
	if f.month != "" {
		t, err := time.ParseInLocation("2006-01", f.month, now.Location())
		if err != nil {
			return o, usagef(c, fact.Say("cli.not_a_month", fact.Name("month", f.month)))
		}
		o = keeping.Month(t)
	}
	if f.from != "" && f.to == "" {
		o.To = now.AddDate(0, 0, 1)
	}
	if err := day("from", f.from, &o.From, 0); err != nil {
		return o, err
	}
	if err := day("to", f.to, &o.To, 1); err != nil {
		return o, err
	}
	o.Granulate, o.Filament = f.granulate, f.filament
	o.Hour, o.Grid = keeping.PerSecond(f.hour), keeping.PerJoule(f.grid)
	return o, nil
}
