package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/shop"
)

// colouredFlags are what is typed of a colour beside its lot.
type colouredFlags struct {
	photo, eye, lab, curve string
	observer               int
}

func colouredCommand(env *Env) *cobra.Command {
	var common noting
	var f colouredFlags
	var melted shop.YesNo
	c := &cobra.Command{
		Use: "coloured LOT",
		Example: `  hopperful record coloured R1 --photo '#c0402a'
  hopperful record coloured R3 --lab 38.2,10.4,-47.1 --observer 10
  hopperful record coloured V1 --curve curve.csv --note "pressed chip, gloss left out"`,
		Args: takes(1, 1, "takes.a_lot_s_label"),
		RunE: func(c *cobra.Command, args []string) error {
			b, err := f.body(c, env)
			if err != nil {
				return err
			}
			if b.Lot, err = shop.ParseLot(args[0]); err != nil {
				return err
			}
			b.Melted = melted
			return common.write(c, env, func(*shop.State) (shop.Body, error) { return b, nil })
		},
	}
	s := c.Flags()
	s.StringVar(&f.photo, "photo", "", "")
	s.StringVar(&f.eye, "eye", "", "")
	s.StringVar(&f.lab, "lab", "", "")
	s.IntVar(&f.observer, "observer", 10, "")
	s.StringVar(&f.curve, "curve", "", "")
	yesNoVar(c, &melted, "melted")
	common.flags(c, env)
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	return c
}

// body is what was typed, still without the lot.
func (f *colouredFlags) body(c *cobra.Command, env *Env) (*shop.Coloured, error) {
	given := 0
	for _, text := range []string{f.photo, f.eye, f.lab, f.curve} {
		if text != "" {
			given++
		}
	}
	switch {
	case given == 0 && correcting(c):
		return &shop.Coloured{}, nil
	case given != 1:
		return nil, usagef(c, fact.Say("cli.colour_one_way", fact.Name("command", c.CommandPath()), fact.Count("given", given)))
	case f.photo != "":
		return &shop.Coloured{How: shop.CardPhoto, RGB: strings.ToLower(f.photo)}, nil
	case f.eye != "":
		return &shop.Coloured{How: shop.ByEye, RGB: strings.ToLower(f.eye)}, nil
	case f.lab != "":
		lab, err := f.labOf(c)
		return &shop.Coloured{How: shop.Instrument, Lab: lab}, err
	}
	read, err := f.table(env)
	if err != nil {
		return nil, err
	}
	for _, note := range read.Notes {
		fmt.Fprintln(env.Err, env.speaks().Say(note))
	}
	b := &shop.Coloured{How: shop.Instrument}
	for i, w := range read.Wavelengths {
		b.Curve = append(b.Curve, shop.TakenBand{Wavelength: w, Light: read.Light[i]})
	}
	return b, nil
}

// labOf reads three numbers with commas or semicolons between.
func (f *colouredFlags) labOf(c *cobra.Command) (*shop.TakenLab, error) {
	words := strings.FieldsFunc(f.lab, func(r rune) bool { return r == ',' || r == ';' || r == ' ' })
	if len(words) != 3 {
		return nil, usagef(c, fact.Say("cli.lab_three_numbers", fact.Name("lab", f.lab)))
	}
	var v [3]float64
	for i, w := range words {
		var err error
		if v[i], err = strconv.ParseFloat(strings.ReplaceAll(w, "−", "-"), 64); err != nil {
			return nil, usagef(c, fact.Say("cli.lab_is_no_number", fact.Name("word", w)))
		}
	}
	return &shop.TakenLab{L: v[0], A: v[1], B: v[2], Observer: f.observer}, nil
}

// table reads the curve from a table; "-" is standard input.
func (f *colouredFlags) table(env *Env) (read exchange.Curve, err error) {
	if f.curve == "-" {
		return exchange.ReadCurve(env.speaks().Line("cli.standard_input"), env.In, -1)
	}
	file, err := os.Open(f.curve)
	if err != nil {
		return read, err
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	return exchange.ReadCurve(filepath.Base(f.curve), file, -1)
}
