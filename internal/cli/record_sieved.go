package cli

import (
	"errors"
	"io"
	"math"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/internal/exchange"
	"hopperful/process/sieve"
	"hopperful/quantity"
	"hopperful/shop"
)

// sievedFlags are what is typed of a sieve analysis beside its lot.
type sievedFlags struct {
	file, sheet   string
	sieves        []string
	pan           string
	series, holes string
	charge, hole  *float64
	run           int64
	long          int
}

func sievedCommand(env *Env) *cobra.Command {
	var common noting
	var f sievedFlags
	c := &cobra.Command{
		Use:   "sieved LOT",
		Short: "A sieve analysis of a sample of a lot",
		Long: `Writes down what each sieve and the pan kept back of a sample. The stack is
typed, coarsest sieve first, or read from a table (CSV, or a workbook of XLSX):
its columns are opening and retained, or opening, full and empty.

A sieve weighed with what lies on it is typed full/empty: 1.4mm=412g/400g.
The sample goes back, so nothing leaves the lot.`,
		Example: `  hopperful record sieved R1 --charge 45g --sieve 2mm=0g --sieve 1.4mm=3.4g --sieve 1mm=13.9g --sieve 0.5mm=19.2g --pan 8.3g --long 0
  hopperful record sieved R1 --charge 45g --sieve 1.4mm=403.4g/400g --sieve 0.5mm=393.1g/360g --pan 308.3g/300g
  hopperful record sieved R3 --file stack.csv --hole 2mm`,
		Args: takes(1, 1, "a lot's label"),
		RunE: func(c *cobra.Command, args []string) error {
			b, err := f.body(c, env)
			if err != nil {
				return err
			}
			if b.Lot, err = shop.ParseLot(args[0]); err != nil {
				return err
			}
			return common.write(c, env, func(*shop.State) (shop.Body, error) { return b, nil })
		},
	}
	f.flags(c)
	common.flags(c, env)
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	return c
}

func (f *sievedFlags) flags(c *cobra.Command) {
	s := c.Flags()
	s.StringVar(&f.file, "file", "", "table with the stack: CSV or XLSX; \"-\" is standard input")
	s.StringVar(&f.sheet, "sheet", "", "of the workbook; empty: the first")
	s.StringArrayVar(&f.sieves, "sieve", nil, "OPENING=MASS, or OPENING=FULL/EMPTY; given once for each sieve, coarsest first")
	s.StringVar(&f.pan, "pan", "", "MASS in the pan, or FULL/EMPTY")
	quantityVar(c, &f.charge, "charge", quantity.Mass, "mass put on the stack")
	s.Var(wordFlag{seriesWords(), &f.series}, "series", "standard the sieves are of; empty: found by their openings")
	s.Var(wordFlag{[]string{string(shop.WovenWire), string(shop.RoundHoles), string(shop.SquareHoles)}, &f.holes}, "holes", "form of the openings; empty: woven")
	s.Int64Var(&f.run, "of-run", 0, "number of the record of the run it came out of")
	quantityVar(c, &f.hole, "hole", quantity.Length, "hole of the mill's screen in use")
	s.IntVar(&f.long, "long", 0, "grains longer than two screen holes; leave it out when nobody looked")
}

// body puts the analysis together from the table and what was typed, which
// goes before what the table says.
func (f *sievedFlags) body(c *cobra.Command, env *Env) (*shop.Sieved, error) {
	switch typed := len(f.sieves) > 0 || f.pan != ""; {
	case f.file == "" && len(f.sieves) == 0:
		return nil, usagef(c, "%s needs --file, or --sieve for each sieve.", c.CommandPath())
	case f.file != "" && typed:
		return nil, usagef(c, "The stack is either in --file or in --sieve and --pan.")
	case f.file == "" && f.pan == "":
		return nil, usagef(c, "%s needs --pan: what fell through the finest sieve, 0g for nothing.", c.CommandPath())
	}
	b := &shop.Sieved{}
	var err error
	if f.file != "" {
		err = f.readTable(env, b)
	} else {
		err = f.readTyped(c, b)
	}
	if err != nil {
		return nil, err
	}
	b.Run = shop.RecordID(f.run)
	if f.holes != "" {
		b.Holes = shop.Holes(f.holes)
	}
	if f.charge != nil {
		b.Charge = *f.charge
	}
	if f.hole != nil {
		b.Hole = f.hole
	}
	if c.Flags().Changed("long") {
		b.LongFound = &f.long
	}
	if b.Charge == 0 {
		return nil, usagef(c, "%s needs --charge: the mass put on the stack.", c.CommandPath())
	}
	if b.Series = shop.Series(f.series); f.series == "" {
		b.Series = seriesOf(b)
	}
	return b, nil
}

// readTyped takes the stack from --sieve and --pan.
func (f *sievedFlags) readTyped(c *cobra.Command, b *shop.Sieved) error {
	b.Holes = shop.WovenWire
	tared := 0
	for _, text := range f.sieves {
		opening, mass, ok := strings.Cut(text, "=")
		if !ok {
			return usagef(c, "--sieve %q is not of the form OPENING=MASS.", text)
		}
		wide, err := quantityArg(c, quantity.Length, opening)
		if err != nil {
			return err
		}
		one := shop.OnSieve{Opening: wide}
		if one.Mass, one.Tare, err = weighedOn(c, mass); err != nil {
			return err
		}
		if one.Tare != nil {
			tared++
		}
		b.Sieves = append(b.Sieves, one)
	}
	var err error
	if b.Pan, b.PanTare, err = weighedOn(c, f.pan); err != nil {
		return err
	}
	b.Gross = tared > 0 || b.PanTare != nil
	return nil
}

// weighedOn reads MASS or FULL/EMPTY.
func weighedOn(c *cobra.Command, text string) (mass float64, tare *float64, err error) {
	full, empty, tared := strings.Cut(text, "/")
	if mass, err = quantityArg(c, quantity.Mass, full); err != nil || !tared {
		return mass, nil, err
	}
	kg, err := quantityArg(c, quantity.Mass, empty)
	return mass, &kg, err
}

// readTable takes the stack from a table.
func (f *sievedFlags) readTable(env *Env, b *shop.Sieved) error {
	how := exchange.Reading{Sheet: f.sheet}
	stack, err := readStack(env, f.file, how)
	if err != nil {
		return err
	}
	b.Holes, b.Hole, b.LongFound = holesOf(stack.Sieves), stack.Hole, stack.Long
	net := len(stack.Portions) > 1 // several portions are kept as one, without the sieves
	if net {
		b.Portions = len(stack.Portions)
	}
	rows := make([]sieve.Row, len(stack.Sieves)+1)
	for _, p := range stack.Portions {
		b.Charge += p.Charge
		for i, r := range p.Rows {
			if net {
				r = sieve.Row{Mass: r.Mass - r.Tare}
			}
			rows[i].Mass += r.Mass
			rows[i].Tare += r.Tare
			b.Gross = b.Gross || r.Tare > 0
		}
	}
	tare := func(r sieve.Row) *float64 {
		if !b.Gross {
			return nil
		}
		return &r.Tare
	}
	for i, s := range stack.Sieves {
		b.Sieves = append(b.Sieves, shop.OnSieve{Opening: s.Opening, Mass: rows[i].Mass, Tare: tare(rows[i])})
	}
	last := rows[len(rows)-1]
	b.Pan, b.PanTare = last.Mass, tare(last)
	return nil
}

// readStack opens and reads a table of a sieve stack; "-" is standard input.
func readStack(env *Env, name string, how exchange.Reading) (stack exchange.Stack, err error) {
	if name == "-" {
		return exchange.ReadStack("standard input", env.In, -1, how)
	}
	file, err := os.Open(name)
	if err != nil {
		return stack, err
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	size := int64(-1)
	if facts, err := file.Stat(); err == nil && facts.Mode().IsRegular() {
		size = facts.Size()
	}
	return exchange.ReadStack(name, io.Reader(file), size, how)
}

// series of the standards, as records and package sieve call them; a stack is
// taken to be of the first that has all its sieves.
var series = []struct {
	kept shop.Series
	of   sieve.Standard
}{{shop.R20x3, sieve.R20x3}, {shop.R40x3, sieve.R40x3}, {shop.R20, sieve.R20}, {shop.ASTME11, sieve.ASTME11}}

func seriesWords() []string {
	words := []string{string(shop.OwnSet)}
	for _, s := range series {
		words = append(words, string(s.kept))
	}
	return words
}

// seriesOf finds the series by the openings. Plates with holes are taken for
// the shop's own.
func seriesOf(b *shop.Sieved) shop.Series {
	if b.Holes != shop.WovenWire {
		return shop.OwnSet
	}
	for _, s := range series {
		if holdsAll(sieve.Openings(s.of), b.Sieves) {
			return s.kept
		}
	}
	return shop.OwnSet
}

func holdsAll(standard []sieve.Sieve, stack []shop.OnSieve) bool {
	for _, x := range stack {
		found := false
		for _, s := range standard {
			found = found || math.Abs(s.Opening-x.Opening) < 1e-9*s.Opening
		}
		if !found {
			return false
		}
	}
	return true
}

// holesOf is the form of a stack's openings.
func holesOf(sieves []sieve.Sieve) shop.Holes {
	for _, s := range sieves {
		switch s.Form {
		case sieve.PlateRound:
			return shop.RoundHoles
		case sieve.PlateSquare:
			return shop.SquareHoles
		}
	}
	return shop.WovenWire
}
