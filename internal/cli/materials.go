package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/plan/fit"
	"hopperful/polymer"
	"hopperful/shop"
	"hopperful/source"
)

func materialsCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use: "materials [NAME]",
		Example: `  hopperful materials
  hopperful materials PETG
  hopperful materials "pe hd" --json`,
		Args: takes(0, 1, "takes.at_most_one_name"),
		RunE: func(c *cobra.Command, args []string) error {
			state, err := readShopIfAny(c, env)
			if err != nil {
				return err
			}
			speaks(env, state)
			table, err := state.Table()
			if err != nil {
				return err
			}
			if len(args) == 0 {
				return listMaterials(c, env, table)
			}
			p, err := table.Find(args[0])
			if err != nil {
				return shop.Refused(shop.NotFound, "material", err)
			}
			say := speaks(env, state)
			return showMaterial(c, env, p, sentence(say.Say(fit.DryingOf(state, p.Name, env.Now()))))
		},
	}
	shopFlag(c)
	completes(c, env, knownMaterials, cobra.ShellCompDirectiveNoFileComp)
	c.AddCommand(materialSetCommand(env), materialTakeCommand(env))
	return c
}

func listMaterials(c *cobra.Command, env *Env, table *polymer.Table) error {
	type materialJSON struct {
		Name       string `json:"name"`
		Words      string `json:"words"`
		Properties int    `json:"properties"`
	}
	list, say := []materialJSON{}, env.speaks()
	g := newGrid(env, say.Line("column.material"), say.Line("column.chemistry"), ">"+say.Line("column.density"), ">"+say.Line("column.softens"), ">"+say.Line("column.values"))
	for _, name := range table.Names() {
		p, err := table.Find(name)
		if err != nil {
			return err
		}
		values := p.Values()
		list = append(list, materialJSON{p.Name, say.Word(p.Words), len(values)})
		g.row(p.Name, say.Word(p.Words), valueShown(say, p, polymer.Density), valueShown(say, p, polymer.Softening), fmt.Sprint(len(values)))
	}
	if asJSON(c) {
		return writeJSON(env, struct {
			Materials []materialJSON `json:"materials"`
		}{list})
	}
	g.print()
	return nil
}

func valueShown(say *say.Printer, p polymer.Polymer, property polymer.Property) string {
	v, err := p.Value(property)
	if err != nil {
		return say.Line("materials.not_known")
	}
	return say.Number(v.Kind.Show(v.Value))
}

// valueJSON is one line about a material as scripts read it.
type valueJSON struct {
	Property string        `json:"property"`
	Grade    string        `json:"grade,omitempty"`
	At       string        `json:"at,omitempty"`
	Mark     polymer.Mark  `json:"mark"`
	Default  bool          `json:"default"`
	Figure   figure.Figure `json:"figure"`
}

type cautionJSON struct {
	About string `json:"about"`
	Code  string `json:"code"`
	Text  string `json:"text"`
	From  string `json:"source"`
}

func showMaterial(c *cobra.Command, env *Env, p polymer.Polymer, drying string) error {
	values, cautions, say := []valueJSON{}, []cautionJSON{}, env.speaks()
	// One line a property, unless all is asked for: then those that disagree too, with where each is from.
	full := wantsFull(c)
	head := []string{say.Line("column.property"), ">" + say.Line("print.value"), ">" + say.Line("print.range"), say.Line("column.mark")}
	if full {
		head = append(head, say.Line("column.condition"), say.Line("why.source"))
	}
	g := newGrid(env, head...)
	for _, d := range polymer.Properties() {
		for i, v := range p.All(d.Property) {
			f := say.Figure(v.Figure())
			values = append(values, valueJSON{string(v.Property), v.Grade, v.At, v.Mark, i == 0, f})
			name := say.Line(d.Name())
			if i > 0 {
				name = "  " + say.Line("materials.also")
			}
			if v.Grade != "" {
				name += ", " + say.Conditions(v.Grade)
			}
			row := []string{name, say.Number(v.Kind.Show(v.Value)), say.Number(f.ShownRange()), say.Fact(fact.Term("", "mark", string(v.Mark)))}
			if full {
				row = append(row, say.Conditions(v.At), saidSource(say, v.Source, v.Mark))
			}
			if full || i == 0 {
				g.row(row...)
			}
		}
	}
	for _, x := range p.Cautions() {
		cautions = append(cautions, cautionJSON{string(x.Kind), x.Code, say.Say(x.Says()), saidSource(say, x.Source, x.Mark)})
	}
	if asJSON(c) {
		return writeJSON(env, struct {
			Name     string        `json:"name"`
			Words    string        `json:"words"`
			Values   []valueJSON   `json:"values"`
			Drying   string        `json:"drying,omitempty"` // how this shop dries it
			Cautions []cautionJSON `json:"cautions"`
		}{p.Name, say.Word(p.Words), values, drying, cautions})
	}
	plain(env.Out, "%s", joined([]string{p.Name, say.Word(p.Words)}))
	if drying != "" {
		plain(env.Out, "%s", drying)
	}
	used := 3 + height(drying, env.width())
	if len(cautions) > 0 { // what can hurt is read before the numbers
		heading(env, "%s", say.Line("why.mind"))
		for _, x := range cautions {
			line := "  " + say.Fact(fact.Term("", "caution_about", x.About)) + ": " + sentence(x.Text)
			if full {
				line += " (" + x.From + ")"
			}
			plain(env.Out, "%s", line)
			used += height(line, env.width())
		}
		plain(env.Out, "")
		used += 3
	}
	g.fold(c, max(mostLines-used, 12), false)
	if !full && env.width() == 0 {
		plain(env.Out, "%s", say.Line("print.rest"))
	}
	return nil
}

// saidSource is a work as it is cited; what is in none has its mark for a source.
func saidSource(say *say.Printer, ref source.Ref, mark polymer.Mark) string {
	if _, ok := source.Lookup(ref.Key); ok || ref.Key == "" {
		return ref.String()
	}
	return say.Fact(fact.Term("", "mark", string(mark)))
}

func materialSetCommand(env *Env) *cobra.Command {
	var common noting
	var low, high, why string
	c := &cobra.Command{
		Use: "set POLYMER PROPERTY VALUE",
		Example: `  hopperful materials set PLA density 1.26g/cm3 --low 1.25g/cm3 --high 1.27g/cm3 --why "weighed under water"
  hopperful materials set PETG softening 74°C`,
		Args: takes(3, 3, "takes.a_polymer_a_property_and"),
		RunE: func(c *cobra.Command, args []string) error {
			return common.write(c, env, func(state *shop.State) (shop.Body, error) {
				name, err := ownMaterial(state, args[0])
				if err != nil {
					return nil, err
				}
				return ownValue(c, name, args[1], []string{args[2], low, high}, why)
			})
		},
	}
	f := c.Flags()
	f.StringVar(&low, "low", "", "")
	f.StringVar(&high, "high", "", "")
	f.StringVar(&why, "why", "", "")
	common.flags(c, env)
	shopFlag(c)
	return c
}

// ownMaterial is the table's name for a material, or the name as typed for one
// the shop adds.
func ownMaterial(state *shop.State, text string) (string, error) {
	table, err := state.Table()
	if err != nil {
		return "", err
	}
	if p, err := table.Find(text); err == nil {
		return p.Name, nil
	}
	return text, nil
}

// ownValue reads value, low and high in the property's kind and lets the
// table's own check look at them.
func ownValue(c *cobra.Command, material, property string, words []string, why string) (shop.Body, error) {
	d, ok := polymer.Property(property).Description()
	if !ok {
		var names []string
		for _, d := range polymer.Properties() {
			names = append(names, string(d.Property))
		}
		return nil, &usageError{command: c.CommandPath(), what: fact.Say("materials.no_property", fact.Name("property", property)), advice: fact.Say("materials.properties", fact.Names("names", names))}
	}
	if (words[1] == "") != (words[2] == "") {
		return nil, usagef(c, fact.Say("cli.low_with_high"))
	}
	var n [3]float64
	for i, w := range words {
		if w == "" {
			continue
		}
		var err error
		if n[i], err = quantityArg(c, d.Kind, w); err != nil {
			return nil, err
		}
	}
	v, err := polymer.Own(material, d.Property, n[0], n[1], n[2], polymer.Entered, why)
	if err != nil {
		return nil, shop.Refused(shop.Invalid, "value", err)
	}
	return &shop.MaterialSet{Polymer: material, Property: property, Value: v.Value, Low: v.Low, High: v.High, Why: why}, nil
}
