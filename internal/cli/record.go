package cli

import (
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/quantity"
	"hopperful/shop"
)

func recordCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use:     "record",
		Example: `  hopperful record ground --mill Rattle --from S1 --charge 90g --run 62s --level 10 --product 78g --left 11g`,
		Args:    unknownCommand,
	}
	c.AddCommand(sortedCommand(env), groundCommand(env), weighedCommand(env), sievedCommand(env), magnetCommand(env),
		dedustedCommand(env), driedCommand(env), jarCommand(env), colouredCommand(env), flowTestCommand(env), blendedCommand(env), printedCommand(env),
		discardedCommand(env), servicedCommand(env), happenedCommand(env), confirmedCommand(env), picturedCommand(env), voidCommand(env))
	var words []string
	for _, sub := range c.Commands() {
		words = append(words, sub.Name())
	}
	c.RunE = func(c *cobra.Command, _ []string) error {
		return usagef(c, fact.Say("cli.do_say_record", fact.Name("words", strings.Join(words, ", "))))
	}
	return c
}

func weighedCommand(env *Env) *cobra.Command {
	r, b := recording{env: env}, shop.Weighed{}
	r.Command = &cobra.Command{
		Use:     "weighed LOT MASS",
		Example: `  hopperful record weighed R2 115g --by Mira`,
		Args:    takes(2, 2, "takes.label_and_mass"),
	}
	r.lot(&b.Lot)
	r.mass(&b.Mass)
	return r.keeping(&b)
}

func discardedCommand(env *Env) *cobra.Command {
	r, b := recording{env: env, needs: []string{"why"}}, shop.Discarded{}
	r.Command = &cobra.Command{
		Use:     "discarded LOT MASS",
		Example: `  hopperful record discarded S7 120g --why "smells of burning, nobody knows what it is"`,
		Args:    takes(2, 2, "takes.label_and_mass"),
	}
	r.lot(&b.Lot)
	r.mass(&b.Mass)
	r.Flags().StringVar(&b.Why, "why", "", "")
	return r.keeping(&b)
}

func voidCommand(env *Env) *cobra.Command {
	var common noting
	b := shop.Void{}
	c := &cobra.Command{
		Use:     "void RECORD",
		Example: `  hopperful record void 96 --why "written down twice"`,
		Args:    takes(1, 1, "takes.one_record_s_number"),
		RunE: func(c *cobra.Command, args []string) error {
			if err := needed(c, "why"); err != nil {
				return err
			}
			id, err := number(c, args[0])
			if err != nil {
				return err
			}
			common.corrects = int64(id)
			return common.write(c, env, func(*shop.State) (shop.Body, error) { return &b, nil })
		},
	}
	c.Flags().StringVar(&b.Why, "why", "", "")
	c.Flags().StringVar(&common.by, "by", "", "")
	shopFlag(c)
	return c
}

func printedCommand(env *Env) *cobra.Command {
	r, b := recording{env: env, needs: []string{"from", "print"}}, shop.Printed{}
	r.Command = &cobra.Command{
		Use: "printed",
		Example: `  hopperful record printed --from R1 --print "drawer front" --mass 96g --purged 14g --good yes
  hopperful record printed --from R3 --print "rain cover" --mass 30g --good no --why "hopper bridged"
  hopperful record printed --from R1 --print clip --mass 20g --moisture 0.02%`,
		Args: takes(0, 0, "takes.flags_only"),
	}
	f := r.Flags()
	r.lotVar(&b.From, "from")
	f.StringVar(&b.Print, "print", "", "")
	f.StringVar(&b.Need, "need", "", "")
	completesFlag(r.Command, env, "need", openNeeds)
	r.known(&b.Mass, "mass", quantity.Mass)
	quantityVar(r.Command, &b.Purged, "purged", quantity.Mass)
	quantityVar(r.Command, &b.Moisture, "moisture", quantity.Share)
	quantityVar(r.Command, &b.Energy, "energy", quantity.Energy)
	yesNoVar(r.Command, &b.Good, "good")
	f.StringVar(&b.Why, "why", "", "")
	return r.keeping(&b)
}

// given takes the value of a flag that must be known.
func given(c *cobra.Command, flag string, v *float64) (float64, error) {
	if v == nil && correcting(c) && !c.Flags().Changed(flag) {
		return 0, nil
	}
	if v == nil {
		return 0, usagef(c, fact.Say("cli.not_unknown", fact.Name("flag", flag)))
	}
	return *v, nil
}

// portion reads words of the form "402g,colour=orange,polymer=PLA": a mass
// and what is known of it. It hands every key to set.
func portion(c *cobra.Command, text string, set func(key, value string) error) (float64, error) {
	words := strings.Split(text, ",")
	kg, err := quantityArg(c, quantity.Mass, words[0])
	if err != nil {
		return 0, err
	}
	var said []string // a name may hold commas: what is no key of its own goes on
	for _, w := range words[1:] {
		if n := len(said); n > 0 && !strings.Contains(w, "=") {
			said[n-1] += "," + w
			continue
		}
		said = append(said, w)
	}
	for _, w := range said {
		key, value, ok := strings.Cut(w, "=")
		if !ok {
			return 0, usagef(c, fact.Say("cli.not_key_value", fact.Name("word", w), fact.Name("text", text)))
		}
		if err := set(strings.TrimSpace(key), strings.TrimSpace(value)); err != nil {
			return 0, usage(c, err)
		}
	}
	return kg, nil
}
