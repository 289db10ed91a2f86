package cli

import (
	"os"

	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/plan/identification"
	"hopperful/polymer/identify"
	"hopperful/quantity"
	"hopperful/shop"
)

// identifyFlags say what was found on a piece.
type identifyFlags struct {
	answers             map[string]*shop.YesNo // by test
	floats, sticks      []string
	found               []string // findings as the page writes them
	at                  *float64
	mass, volume, scale *float64
	solid, chlorine     shop.YesNo
	label, from         string
	lot, chances        string
	ask, save           bool
	by                  string
}

func identifyCommand(env *Env, tests bool) *cobra.Command {
	f := identifyFlags{answers: map[string]*shop.YesNo{}}
	c := &cobra.Command{
		Use: "identify",
		Example: `  hopperful identify
  hopperful identify --limp70 yes --snaps yes
  hopperful identify --solid yes --floats water=no --floats "brine 12%=no" --lot S7
  hopperful identify --lot S7 --limp70 yes --snaps yes --save --by Mira
  hopperful identify --label PETG --limp70 no --why share_petg
  hopperful identify --solid yes --mass 12.2g --volume 10cm3 --scale 0.1g`,
		Args: takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error { return f.run(c, env) },
	}
	if tests {
		f.tests(c)
	}
	f.flags(c, env)
	c.AddCommand(identifyLiquidCommand(env), identifyMixedCommand(env))
	return c
}

// tests are the flags of what can be tried and looked at.
func (f *identifyFlags) tests(c *cobra.Command) {
	for _, t := range identify.Books().Tests {
		if t.Kind == identify.Bench || t.Kind == identify.Look {
			f.answers[t.Name] = new(shop.YesNo)
			c.Flags().Var(yesNoFlag{f.answers[t.Name]}, t.Name, identification.Asked(t).Code)
		}
	}
}

func (f *identifyFlags) flags(c *cobra.Command, env *Env) {
	s := c.Flags()
	s.StringArrayVar(&f.floats, "floats", nil, "")
	s.StringArrayVar(&f.sticks, "sticks", nil, "")
	s.StringArrayVar(&f.found, "found", nil, "")
	quantityVar(c, &f.at, "liquid-temperature", quantity.Temperature)
	quantityVar(c, &f.mass, "mass", quantity.Mass)
	quantityVar(c, &f.volume, "volume", quantity.Volume)
	quantityVar(c, &f.scale, "scale", quantity.Mass)
	yesNoVar(c, &f.solid, "solid")
	yesNoVar(c, &f.chlorine, "chlorine")
	s.StringVar(&f.label, "label", "", "")
	wordVar(c, env, &f.from, "label-by", []string{"hand", "supplier"})
	s.StringVar(&f.lot, "lot", "", "")
	s.StringVar(&f.chances, "chances", "", "")
	s.BoolVar(&f.ask, "ask", false, "")
	s.BoolVar(&f.save, "save", false, "")
	s.StringVar(&f.by, "by", "", "")
	whyFlag(c, "share_pla")
	shopFlag(c)
	completesFlag(c, env, "lot", lotsOnHand)
	completesFlag(c, env, "label", knownMaterials)
}

func (f *identifyFlags) run(c *cobra.Command, env *Env) error {
	state, keep, err := f.shop(c, env)
	if err != nil {
		return err
	}
	if keep != nil {
		defer keep.Close()
	}
	p := speaks(env, state)
	opt, err := f.options(c, state)
	if err != nil {
		return err
	}
	if f.ask {
		if opt, err = askPiece(c.Context(), env, p, state, opt); err != nil {
			return err
		}
	}
	out, err := identification.Identify(state, opt)
	if err != nil {
		return err
	}
	if keep != nil {
		if err := f.keep(c, keep, p, state, opt, &out); err != nil {
			return err
		}
	}
	return answers(c, env, p, out.Document)
}

// shop reads the shop; with --save it stays open for the record.
func (f *identifyFlags) shop(c *cobra.Command, env *Env) (*shop.State, *books, error) {
	switch {
	case !f.save && f.by != "":
		return nil, nil, usagef(c, fact.Say("cli.by_without_save"))
	case !f.save:
		state, err := readShopIfAny(c, env)
		return state, nil, err
	case f.lot == "":
		return nil, nil, usagef(c, fact.Say("cli.piece_without_lot"))
	}
	keep, err := openShop(c, env)
	if err != nil {
		return nil, nil, err
	}
	state, err := keep.State()
	return state, keep, err
}

// keep writes the answer down with its lot.
func (f *identifyFlags) keep(c *cobra.Command, keep *books, p *say.Printer, state *shop.State, opt identification.Options, out *identification.Identification) error {
	r, err := identification.Keep(state, opt, *out)
	if err != nil {
		return err
	}
	r.By, r.Note = f.by, p.Say(out.Note())
	kept, _, err := keep.Append(c.Context(), r)
	if err != nil {
		return err
	}
	made := kept.Body.(*shop.Sorted).Into[0].Lot // Keep makes one heap
	out.Steps[0] = answer.Action{Do: fact.Say("identification.written_down", fact.Set("record", quantity.Count, float64(kept.ID)), fact.Lot("made", string(made), ""))}
	return nil
}

// options reads the flags.
func (f *identifyFlags) options(c *cobra.Command, state *shop.State) (opt identification.Options, err error) {
	opt = identification.Options{Solid: f.solid, Chlorine: f.chlorine}
	if opt.Label, err = knownPolymer(state, f.label); err != nil {
		return opt, err
	}
	switch {
	case f.from != "" && opt.Label == "":
		return opt, usagef(c, fact.Say("cli.label_by_without_label"))
	case f.from == "supplier":
		opt.LabelRight = identify.SupplierLabel
	}
	if f.lot != "" {
		if opt.Lot, err = shop.ParseLot(f.lot); err != nil {
			return opt, err
		}
	}
	if f.chances != "" {
		if opt.Book, err = ownChances(f.chances); err != nil {
			return opt, err
		}
	}
	opt.Findings, err = f.findings(c)
	return opt, err
}

// ownChances reads a table of chances over the program's.
func ownChances(name string) (*identify.Book, error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return identify.Books().With(name, file)
}

// findings turns the flags into findings, in the book's order.
func (f *identifyFlags) findings(c *cobra.Command) ([]identify.Finding, error) {
	var all []identify.Finding
	for _, t := range identify.Books().Tests {
		if answer := f.answers[t.Name]; answer != nil && *answer != shop.Unknown {
			all = append(all, identify.Finding{Test: t.Name, Yes: *answer == shop.Yes})
		}
	}
	temperature := identification.UsualTemperature
	if f.at != nil {
		temperature = *f.at
	}
	for _, text := range f.floats {
		found, err := identification.ReadFloat(text, temperature)
		if err != nil {
			return nil, misread(c, err)
		}
		all = append(all, found)
	}
	for _, text := range f.found {
		found, err := identification.ReadFinding(text)
		if err != nil {
			return nil, misread(c, err)
		}
		all = append(all, found)
	}
	for _, text := range f.sticks {
		found, err := identification.ReadSticks(text)
		if err != nil {
			return nil, usage(c, err)
		}
		all = append(all, found)
	}
	switch {
	case (f.mass == nil) != (f.volume == nil):
		return nil, usagef(c, fact.Say("cli.mass_with_volume"))
	case f.mass != nil:
		scale := 1e-4 // kg: a kitchen scale for small things
		if f.scale != nil {
			scale = *f.scale
		}
		found, err := identification.WeighedFinding(*f.mass, *f.volume, scale)
		if err != nil {
			return nil, err
		}
		all = append(all, found)
	}
	return all, nil
}
