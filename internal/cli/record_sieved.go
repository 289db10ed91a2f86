package cli

import (
	"errors"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/plan/sieving"
	"hopperful/process/sieve"
	"hopperful/quantity"
	"hopperful/shop"
)

// sievedFlags are what is typed of a sieve analysis beside its lot.
type sievedFlags struct {
	file, sheet  string
	sieves       []string
	pan, holes   string
	charge, hole *float64
	run          int64
	long         int
}

func sievedCommand(env *Env) *cobra.Command {
	var common noting
	var f sievedFlags
	c := &cobra.Command{
		Use: "sieved LOT",
		Example: `  hopperful record sieved R1 --charge 45g --sieve 2mm=0g --sieve 1.4mm=3.4g --sieve 1mm=13.9g --sieve 0.5mm=19.2g --pan 8.3g --long 0
  hopperful record sieved R1 --charge 45g --sieve 1.4mm=403.4g/400g --sieve 0.5mm=393.1g/360g --pan 308.3g/300g
  hopperful record sieved R3 --file stack.csv --hole 2mm`,
		Args: takes(1, 1, "takes.a_lot_s_label"),
		RunE: func(c *cobra.Command, args []string) error {
			if common.corrects != 0 && f.file == "" && len(f.sieves) == 0 && f.pan == "" {
				return common.write(c, env, func(*shop.State) (shop.Body, error) { return f.beside(c), nil })
			}
			stack, err := f.stack(c, env)
			if err != nil {
				return err
			}
			if stack.Lot, err = shop.ParseLot(args[0]); err != nil {
				return err
			}
			b, err := stack.Body()
			if err != nil {
				return err
			}
			return common.write(c, env, func(*shop.State) (shop.Body, error) { return b, nil })
		},
	}
	s := c.Flags()
	s.StringVar(&f.file, "file", "", "")
	s.StringVar(&f.sheet, "sheet", "", "")
	s.StringArrayVar(&f.sieves, "sieve", nil, "")
	s.StringVar(&f.pan, "pan", "", "")
	quantityVar(c, &f.charge, "charge", quantity.Mass)
	wordVar(c, env, &f.holes, "holes", []string{"woven", "round", "square"})
	s.Int64Var(&f.run, "of-run", 0, "")
	quantityVar(c, &f.hole, "hole", quantity.Length)
	s.IntVar(&f.long, "long", 0, "")
	common.flags(c, env)
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	return c
}

// stack puts the analysis together from the table or what was typed. What is
// given beside the stack goes before what the table says.
func (f *sievedFlags) stack(c *cobra.Command, env *Env) (sieving.Stack, error) {
	var st sieving.Stack
	var err error
	switch typed := len(f.sieves) > 0 || f.pan != ""; {
	case f.file == "" && len(f.sieves) == 0:
		return st, usagef(c, fact.Say("cli.stack_without_table", fact.Name("command", c.CommandPath())))
	case f.file != "" && typed:
		return st, usagef(c, fact.Say("cli.stack_file_or_flags"))
	case f.file != "":
		st, err = f.table(env)
	case f.pan == "":
		return st, usagef(c, fact.Say("cli.stack_without_pan", fact.Name("command", c.CommandPath())))
	default:
		st, err = f.typed(c)
	}
	if err != nil {
		return st, err
	}
	if f.charge != nil {
		if len(st.Portions) > 1 {
			return st, usagef(c, fact.Say("cli.portions_own_charge", fact.Count("n", len(st.Portions))))
		}
		st.Portions[0].Charge = *f.charge
	}
	for _, p := range st.Portions {
		if p.Charge == 0 {
			return st, usagef(c, fact.Say("cli.stack_without_charge", fact.Name("command", c.CommandPath())))
		}
	}
	if f.hole != nil {
		st.Hole = f.hole
	}
	if c.Flags().Changed("long") {
		st.Long = &f.long
	}
	st.Run = shop.RecordID(f.run)
	return st, nil
}

// beside is what is corrected of an analysis whose stack stays as it was.
func (f *sievedFlags) beside(c *cobra.Command) *shop.Sieved {
	b := &shop.Sieved{Run: shop.RecordID(f.run), Hole: f.hole}
	if f.charge != nil {
		b.Charge = *f.charge
	}
	if c.Flags().Changed("long") {
		b.LongFound = &f.long
	}
	return b
}

// form is what the holes are said to be.
func (f *sievedFlags) form() sieve.Form {
	return map[string]sieve.Form{"round": sieve.PlateRound, "square": sieve.PlateSquare}[f.holes]
}

// table reads the stack from a table; "-" is standard input.
func (f *sievedFlags) table(env *Env) (st sieving.Stack, err error) {
	how := exchange.Reading{Sheet: f.sheet, Holes: f.form()}
	if f.file == "-" {
		read, err := exchange.ReadStack(env.speaks().Line("cli.standard_input"), env.In, -1, how)
		return ofTable(read), err
	}
	file, err := os.Open(f.file)
	if err != nil {
		return st, err
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	read, err := exchange.ReadStack(filepath.Base(f.file), file, -1, how)
	return ofTable(read), err
}

// typed takes the stack from --sieve and --pan.
func (f *sievedFlags) typed(c *cobra.Command) (st sieving.Stack, err error) {
	var rows []sieve.Row
	for _, text := range f.sieves {
		opening, weighed, ok := strings.Cut(text, "=")
		if !ok {
			return st, usagef(c, fact.Say("cli.not_a_sieve_mass", fact.Name("text", text)))
		}
		one, err := f.named(opening)
		if err != nil {
			return st, err
		}
		row, err := weighedOn(c, weighed)
		if err != nil {
			return st, err
		}
		st.Sieves, rows = append(st.Sieves, one), append(rows, row)
	}
	pan, err := weighedOn(c, f.pan)
	st.Portions = []sieve.Portion{{Rows: append(rows, pan)}}
	return st, err
}

// named is the sieve of a standard by its opening or number, else one of the
// shop's own.
func (f *sievedFlags) named(opening string) (sieve.Sieve, error) {
	all, err := exchange.SievesNamed(opening)
	if err != nil {
		return sieve.Sieve{}, err
	}
	if len(all) != 1 {
		return sieve.Sieve{}, &failure{what: fact.Say("cli.names_sieves", fact.Name("opening", opening), fact.Count("n", len(all))), advice: fact.Say("cli.do_each_sieve")}
	}
	if form := f.form(); form != "" {
		return sieve.Own(all[0].Opening, form)
	}
	return all[0], nil
}

// weighedOn reads MASS or FULL/EMPTY.
func weighedOn(c *cobra.Command, text string) (row sieve.Row, err error) {
	full, empty, tared := strings.Cut(text, "/")
	if row.Mass, err = quantityArg(c, quantity.Mass, full); err != nil || !tared {
		return row, err
	}
	row.Tare, err = quantityArg(c, quantity.Mass, empty)
	return row, err
}
