package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/internal/say"
	"hopperful/plan/sieving"
	"hopperful/process/sieve"
	"hopperful/quantity"
	"hopperful/shop"
)

// sieveFlags say what a stack is of and how it is judged; what is given here
// goes before what the table says.
type sieveFlags struct {
	common                           noting
	lot, sheet, holes                string
	run                              int64
	long                             int
	with                             []string
	charge, hole, fines, coarse, may *float64
	save, equal, pool                bool
	template                         sieveTemplate
}

func sieveCommand(env *Env) *cobra.Command {
	var f sieveFlags
	c := &cobra.Command{
		Use: "sieve FILE",
		Example: `  hopperful sieve stack.csv --hole 2mm
  hopperful sieve stack.csv --lot R1 --charge 45g --save --by Ada
  hopperful sieve R1 --why d50
  hopperful sieve R1 --pool
  hopperful sieve --template "ISO 3310-1 R20/3"
  hopperful sieve --template "4mm 2.8mm 2mm 1mm 0.5mm" --gross`,
		Args: takes(0, 1, "takes.one_table_one_lot_or"),
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case f.template.series != "" && len(args) == 0:
				return f.template.write(c, env)
			case f.template.series != "":
				return usagef(c, fact.Say("cli.template_without_file"))
			case len(args) == 0:
				return usagef(c, fact.Say("cli.do_give_table"))
			}
			return f.sieve(c, env, args[0])
		},
	}
	f.flags(c, env)
	return c
}

func (f *sieveFlags) flags(c *cobra.Command, env *Env) {
	s := c.Flags()
	s.StringVar(&f.lot, "lot", "", "")
	s.Int64Var(&f.run, "of-run", 0, "")
	quantityVar(c, &f.charge, "charge", quantity.Mass)
	quantityVar(c, &f.hole, "hole", quantity.Length)
	s.IntVar(&f.long, "long", sieve.NotLooked, "")
	s.Var(wordFlag{[]string{"woven", "round", "square"}, &f.holes}, "holes", "")
	s.StringVar(&f.sheet, "sheet", "", "")
	quantityVar(c, &f.fines, "fines", quantity.Length)
	quantityVar(c, &f.coarse, "coarse", quantity.Length)
	quantityVar(c, &f.may, "allowance", quantity.Share)
	s.BoolVar(&f.equal, "equal-weights", false, "")
	s.BoolVar(&f.pool, "pool", false, "")
	s.StringArrayVar(&f.with, "with", nil, "")
	s.BoolVar(&f.save, "save", false, "")
	whyFlag(c, "d50")
	f.template.flags(c)
	f.common.flags(c, env)
	shopFlag(c)
	completes(c, env, sievedLots, cobra.ShellCompDirectiveDefault)
	completesFlag(c, env, "lot", lotsOnHand)
	completesFlag(c, env, "with", sievedLots)
}

// sievedLots are the labels of the lots with a sieve analysis.
func sievedLots(s *shop.State) []string {
	p := say.For(s.Shop.Language)
	var words []string
	for _, id := range s.Order {
		if len(s.Sievings(id)) > 0 {
			l := s.Lots.At(id)
			words = append(words, string(id)+"\t"+classAnd(p, l)+", "+material(p, l.Polymer, l.Colour))
		}
	}
	return words
}

// sieve analyses one stack, and keeps it if asked to.
func (f *sieveFlags) sieve(c *cobra.Command, env *Env, word string) error {
	state, err := readShopIfAny(c, env)
	if err != nil {
		return err
	}
	stack, err := f.stack(c, env, state, word)
	if err != nil {
		return err
	}
	opt, err := f.options(env)
	if err != nil {
		return err
	}
	if f.save {
		if state, stack, err = f.keep(c, env, stack, opt); err != nil {
			return err
		}
	}
	p := speaks(env, state)
	out, err := sieving.Of(state, stack, opt)
	if err != nil {
		return err
	}
	if f.save {
		out.Steps = append([]answer.Action{{Do: fact.Say("sieving.kept", fact.Name("record", fmt.Sprint(out.Record)))}}, out.Steps...)
	}
	return answers(c, env, p, out.Document)
}

func (f *sieveFlags) options(env *Env) (opt sieving.Options, err error) {
	opt.Equal, opt.Pool = f.equal, f.pool
	if f.fines != nil {
		opt.Fines = *f.fines
	}
	if f.coarse != nil {
		opt.Coarse = *f.coarse
	}
	if f.may != nil {
		opt.Allowance = sieve.Allowance{Share: *f.may, Name: env.speaks().Line("cli.your_own_allowance"), Source: "judgement"}
	}
	opt.With, err = lots(f.with)
	return opt, err
}

// stack reads the word of the command: a table, standard input or a lot.
func (f *sieveFlags) stack(c *cobra.Command, env *Env, state *shop.State, word string) (sieving.Stack, error) {
	st, ofLot, err := f.found(env, state, word)
	if err != nil {
		return st, err
	}
	if ofLot && (f.save || f.charge != nil) {
		return st, usagef(c, fact.Say("cli.analysis_on_record", fact.Name("name", st.Name)))
	}
	if f.lot != "" {
		if st.Lot, err = shop.ParseLot(f.lot); err != nil {
			return st, err
		}
	}
	if st.Lot != "" {
		if _, ok := state.Lot(st.Lot); !ok {
			return st, shop.NoLot("", st.Lot)
		}
	}
	if f.run != 0 {
		st.Run = shop.RecordID(f.run)
	}
	if f.hole != nil {
		st.Hole = f.hole
	}
	if f.long != sieve.NotLooked {
		if f.long < 0 {
			return st, usagef(c, fact.Say("cli.not_a_long_count", fact.Count("long", int(f.long))))
		}
		st.Long = &f.long
	}
	if f.charge != nil {
		if len(st.Portions) > 1 {
			return st, usagef(c, fact.Say("cli.portions_own_charge", fact.Count("n", len(st.Portions))))
		}
		st.Portions[0].Charge = *f.charge
	}
	return st, nil
}

// found tells a table from a lot.
func (f *sieveFlags) found(env *Env, state *shop.State, word string) (st sieving.Stack, ofLot bool, err error) {
	how := exchange.Reading{Sheet: f.sheet, Holes: map[string]sieve.Form{"round": sieve.PlateRound, "square": sieve.PlateSquare}[f.holes]}
	if word == "-" {
		read, err := exchange.ReadStack(env.speaks().Line("cli.standard_input"), env.In, -1, how)
		return ofTable(read), false, err
	}
	facts, err := os.Stat(word)
	switch {
	case err == nil && facts.IsDir():
		return st, false, &failure{what: fact.Say("cli.is_folder_not_file", fact.Name("word", word)), advice: fact.Say("cli.do_table_in_zip")}
	case err == nil:
		file, err := os.Open(word)
		if err != nil {
			return st, false, err
		}
		defer file.Close()
		read, err := exchange.ReadStack(filepath.Base(word), file, facts.Size(), how)
		return ofTable(read), false, err
	}
	id, wrong := shop.ParseLot(word)
	if wrong != nil {
		return st, false, &failure{what: fact.Say("cli.no_file_or_lot", fact.Name("word", word)), advice: fact.Say("cli.do_give_stack")}
	}
	if _, ok := state.Lot(id); !ok {
		return st, false, &failure{what: fact.Say("cli.no_file_no_lot", fact.Name("word", word), fact.Name("id", string(id))), advice: fact.Say("cli.do_stock_all")}
	}
	st, err = sieving.NewestStack(state, id)
	return st, true, err
}

// ofTable turns what a table says into the stack of an analysis.
func ofTable(t exchange.Stack) sieving.Stack {
	return sieving.Stack{Stack: t.Stack, Name: t.Name, Lot: shop.LotID(strings.TrimSpace(t.Lot)), Hole: t.Hole, Long: t.Long, Notes: t.Notes}
}

// keep writes the analysis down. It is judged first: what would be refused is
// not kept.
func (f *sieveFlags) keep(c *cobra.Command, env *Env, st sieving.Stack, opt sieving.Options) (*shop.State, sieving.Stack, error) {
	if st.Lot == "" {
		return nil, st, usagef(c, fact.Say("cli.sample_without_lot"))
	}
	for _, p := range st.Portions {
		if p.Charge == 0 {
			return nil, st, usagef(c, fact.Say("cli.save_without_charge"))
		}
	}
	body, err := st.Body()
	if err != nil {
		return nil, st, err
	}
	shopBooks, err := openShop(c, env)
	if err != nil {
		return nil, st, err
	}
	defer shopBooks.Close()
	state, err := shopBooks.State()
	if err != nil {
		return nil, st, err
	}
	if _, err := sieving.Of(state, st, opt); err != nil {
		return nil, st, err
	}
	kept, state, err := shopBooks.Append(c.Context(), shop.Record{At: f.common.at, By: f.common.by, Note: f.common.note, Corrects: shop.RecordID(f.common.corrects), Body: body})
	if err != nil {
		return nil, st, err
	}
	st.Record = kept.ID
	return state, st, nil
}
