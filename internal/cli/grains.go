package cli

import (
	"encoding/base64"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/internal/photo"
	"hopperful/internal/say"
	"hopperful/plan/grains"
	"hopperful/process/grain"
	"hopperful/quantity"
	"hopperful/shop"
)

// grainsFlags say what was photographed, and what is wanted of it.
type grainsFlags struct {
	common        noting
	run           int64
	mass, line    *float64
	classes       []string
	below         string
	strike, part  []string
	save, picture bool
	csv           bool
	sheet, on     string
	sheetHalf     bool
}

func grainsCommand(env *Env) *cobra.Command {
	var f grainsFlags
	c := &cobra.Command{
		Use: "grains [LOT] PICTURE...",
		Example: `  hopperful grains --sheet=sheet.pdf
  hopperful grains R1 a.jpg b.jpg --mass 0.4g --line 99.6mm
  hopperful grains R1 a.jpg --save --by Ada
  hopperful grains R1 --fraction 18g=coarse.jpg --fraction 7.4g=fine.jpg --below 0.5mm=1.2g
  hopperful grains R1 a.jpg --csv
  hopperful grains R1 a.jpg --strike 3,17 --halve 41`,
		Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			if c.Flags().Changed("sheet") {
				return f.print(c, env, args)
			}
			return f.measure(c, env, args)
		},
	}
	s := c.Flags()
	quantityVar(c, &f.mass, "mass", quantity.Mass)
	quantityVar(c, &f.line, "line", quantity.Length)
	s.StringArrayVar(&f.classes, "fraction", nil, "")
	s.StringVar(&f.below, "below", "", "")
	s.StringArrayVar(&f.strike, "strike", nil, "")
	s.StringArrayVar(&f.part, "halve", nil, "")
	s.Int64Var(&f.run, "of-run", 0, "")
	s.BoolVar(&f.save, "save", false, "")
	s.BoolVar(&f.picture, "picture", false, "")
	s.BoolVar(&f.csv, "csv", false, "")
	s.StringVar(&f.sheet, "sheet", "", "")
	s.Lookup("sheet").NoOptDefVal = "-"
	s.BoolVar(&f.sheetHalf, "half", false, "")
	s.Var(wordFlag{[]string{"white", "black", "window"}, &f.on}, "on", "")
	whyFlag(c, "d50")
	f.common.flags(c, env)
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveDefault)
	return c
}

// print writes the sheet.
func (f *grainsFlags) print(c *cobra.Command, env *Env, args []string) error {
	state, err := readShopIfAny(c, env)
	if err != nil {
		return err
	}
	lot := shop.LotID("")
	if len(args) > 0 {
		if lot, err = shop.ParseLot(args[0]); err != nil || len(args) > 1 {
			return usagef(c, fact.Say("cli.sheet_without_pictures"))
		}
	}
	sheet := grain.WholeSheet()
	if f.sheetHalf {
		sheet = grain.HalfSheet()
	}
	page, err := sheetPage(speaks(env, state), state, lot, sheet, photo.Ground(f.on))
	if err != nil {
		return err
	}
	switch ext := strings.ToLower(filepath.Ext(f.sheet)); {
	case f.sheet == "-":
		env.raw = true
		_, err = fmt.Fprint(env.Out, page.SVG())
		return err
	case ext == ".pdf":
		return os.WriteFile(f.sheet, page.PDF(), 0o644)
	case ext == ".svg":
		return os.WriteFile(f.sheet, []byte(page.SVG()), 0o644)
	}
	return usagef(c, fact.Say("cli.sheet_ending", fact.Name("sheet", f.sheet)))
}

// sheetPage lays a sheet out with its words.
func sheetPage(p *say.Printer, state *shop.State, lot shop.LotID, sheet grain.Sheet, on photo.Ground) (photo.Page, error) {
	needed, err := grains.Needed(state, lot, sheet)
	if err != nil {
		return photo.Page{}, err
	}
	return photo.Worded(p, sheet, on, needed), nil
}

// measure reads the pictures one by one and says what they hold.
func (f *grainsFlags) measure(c *cobra.Command, env *Env, args []string) error {
	state, err := readShopIfAny(c, env)
	if err != nil {
		return err
	}
	ask, names, err := f.asked(c, state, args)
	if err != nil {
		return err
	}
	p := speaks(env, state)
	if ask, err = f.read(env, p, ask, names); err != nil {
		return err
	}
	struck, parted, err := f.edited(c, &ask)
	if err != nil {
		return err
	}
	out, err := grains.Of(state, ask)
	if err != nil {
		return refusedPicture(p, "", err)
	}
	if f.save {
		if err := f.keep(c, env, ask, out, struck[0]); err != nil {
			return err
		}
	}
	if f.csv {
		return grainTable(env, ask, struck, parted)
	}
	return answers(c, env, p, out.Document)
}

// named are the pictures of one sample or class.
type named struct {
	mass  float64
	files []string
}

// asked tells the lot from the pictures, and reads classes and what lies in none.
func (f *grainsFlags) asked(c *cobra.Command, state *shop.State, args []string) (grains.Ask, []named, error) {
	ask := grains.Ask{Run: shop.RecordID(f.run), Ruled: f.line != nil}
	if len(args) > 0 {
		if id, err := shop.ParseLot(args[0]); err == nil {
			if _, ok := state.Lot(id); !ok {
				return ask, nil, shop.NoLot("", id)
			}
			ask.Lot, args = id, args[1:]
		}
	}
	var all []named
	if len(args) > 0 {
		one := named{files: args}
		if f.mass != nil {
			one.mass = *f.mass
		}
		all = append(all, one)
	}
	for _, class := range f.classes {
		mass, files, ok := strings.Cut(class, "=")
		m, err := quantity.Mass.Parse(mass)
		if !ok || err != nil || !(m > 0) || files == "" {
			return ask, nil, usagef(c, fact.Say("cli.not_a_fraction", fact.Name("class", class)))
		}
		all = append(all, named{m, strings.Split(files, ",")})
	}
	switch {
	case len(all) == 0:
		return ask, nil, usagef(c, fact.Say("cli.do_give_picture"))
	case len(f.classes) > 0 && len(args) > 0:
		return ask, nil, usagef(c, fact.Say("cli.do_whole_or_fractions"))
	case f.save && ask.Lot == "":
		return ask, nil, usagef(c, fact.Say("cli.grains_without_lot"))
	}
	if f.below != "" {
		hole, mass, _ := strings.Cut(f.below, "=")
		h, err := quantity.Length.Parse(hole)
		m, err2 := quantity.Mass.Parse(mass)
		if err := errors.Join(err, err2); err != nil || !(h > 0) || !(m >= 0) {
			return ask, nil, usagef(c, fact.Say("cli.not_a_below", fact.Name("below", f.below)))
		}
		if f.mass == nil && len(f.classes) == 0 {
			return ask, nil, usagef(c, fact.Say("cli.below_alone"))
		}
		ask.Unseen, ask.UnseenBelow = m, h
	}
	return ask, all, nil
}

// read measures the pictures, one at a time.
func (f *grainsFlags) read(env *Env, p *say.Printer, ask grains.Ask, all []named) (grains.Ask, error) {
	opt := grain.Options{}
	if f.line != nil {
		opt.Line = *f.line
	}
	for _, sample := range all {
		s := grain.Sample{Mass: sample.mass}
		if len(f.classes) > 0 { // of a class only a spoonful is photographed
			s = grain.Sample{Of: sample.mass}
		}
		for _, name := range sample.files {
			if env.ErrTerminal {
				fmt.Fprintf(env.Err, "%s\n", name)
			}
			m, err := measured(name, opt)
			if err != nil {
				return ask, refusedPicture(p, name, err)
			}
			s.Spreads = append(s.Spreads, &m.Spread)
			ask.Pictures = append(ask.Pictures, m)
		}
		ask.Samples = append(ask.Samples, s)
	}
	return ask, nil
}

// measured reads and measures one picture.
func measured(name string, opt grain.Options) (*grain.Measured, error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return photo.Measure(file, opt)
}

// refusedPicture words why a picture was not measured.
func refusedPicture(p *say.Printer, name string, err error) error {
	var r *grain.Refusal
	if !errors.As(err, &r) {
		return err
	}
	what, remedy := photo.Refusal(p, r)
	if name != "" {
		what = name + ": " + what
	}
	return &failure{what: fact.Verbatim(what), advice: fact.Verbatim(remedy), err: err}
}

// keep writes the analysis down.
func (f *grainsFlags) keep(c *cobra.Command, env *Env, ask grains.Ask, out grains.Result, struck map[int]bool) error {
	if f.picture {
		jpeg, err := photo.Overlaid(ask.Pictures[0], func(i int) bool { return struck[i] })
		if err != nil {
			return err
		}
		out.Body.Photo.Picture = base64.StdEncoding.EncodeToString(jpeg)
	}
	books, err := openShop(c, env)
	if err != nil {
		return err
	}
	defer books.Close()
	kept, _, err := books.Append(c.Context(), shop.Record{At: f.common.at, By: f.common.by, Note: f.common.note, Corrects: shop.RecordID(f.common.corrects), Body: out.Body})
	if err != nil {
		return err
	}
	if !asJSON(c) {
		fmt.Fprintln(env.Err, env.speaks().Line("cli.kept_as_record", fact.Count("id", int(kept.ID))))
	}
	return nil
}

// edited takes out of the samples what an eye saw better. It returns the grains
// struck out and parted, of each picture.
func (f *grainsFlags) edited(c *cobra.Command, ask *grains.Ask) (struck, parted []map[int]bool, err error) {
	if struck, err = grainsNamed(c, "strike", f.strike, ask.Pictures); err != nil {
		return nil, nil, err
	}
	if parted, err = grainsNamed(c, "halve", f.part, ask.Pictures); err != nil {
		return nil, nil, err
	}
	n := 0
	for _, s := range ask.Samples {
		for k, sp := range s.Spreads {
			out, two := struck[n], parted[n]
			s.Spreads[k] = sp.Without(func(i int) bool { return out[i] }, func(i int) bool { return two[i] })
			ask.Struck, ask.Parted = ask.Struck+len(out), ask.Parted+len(two)
			n++
		}
	}
	return struck, parted, nil
}

// grainsNamed reads "3,17" and "2:5" as grains of pictures, both counted from one.
func grainsNamed(c *cobra.Command, flag string, words []string, pictures []*grain.Measured) ([]map[int]bool, error) {
	all := make([]map[int]bool, len(pictures))
	for i := range all {
		all[i] = map[int]bool{}
	}
	for _, word := range words {
		of, list, ok := strings.Cut(word, ":")
		if !ok {
			of, list = "1", word
		}
		n, err := strconv.Atoi(of)
		if err != nil || n < 1 || n > len(pictures) {
			return nil, usagef(c, fact.Say("cli.no_such_picture", fact.Name("flag", flag), fact.Name("word", word), fact.Name("of", of)))
		}
		for _, one := range strings.Split(list, ",") {
			k, err := strconv.Atoi(strings.TrimSpace(one))
			if err != nil || k < 1 || k > len(pictures[n-1].Grains) {
				return nil, usagef(c, fact.Say("cli.grain_not_in_picture", fact.Name("flag", flag), fact.Name("word", word), fact.Count("n", n), fact.Name("one", one), fact.Count("n2", len(pictures[n-1].Grains))))
			}
			all[n-1][k-1] = true
		}
	}
	return all, nil
}

// grainTable prints the grains, one a line; one that was parted has two lines.
func grainTable(env *Env, ask grains.Ask, struck, parted []map[int]bool) error {
	env.raw = true
	w := exchange.NewCells(env.Out)
	if err := w.Write([]string{"picture", "grain", "x (mm)", "y (mm)", "width (mm)", "length (mm)", "area (mm²)", "solid"}); err != nil {
		return err
	}
	show := func(v float64) string { return strconv.FormatFloat(v, 'f', 3, 64) }
	for i, m := range ask.Pictures {
		for k, g := range m.Grains {
			pieces := []grain.Grain{g}
			if a, b, ok := g.Parted(); ok && parted[i][k] {
				pieces = []grain.Grain{a, b}
			}
			if struck[i][k] {
				continue
			}
			for _, g := range pieces {
				if err := w.Write([]string{strconv.Itoa(i + 1), strconv.Itoa(k + 1), show(g.X * 1e3), show(g.Y * 1e3), show(g.Width * 1e3), show(g.Length * 1e3), show(g.Area * 1e6), show(g.Solid)}); err != nil {
					return err
				}
			}
		}
	}
	w.Flush()
	return w.Error()
}
