package cli

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/blend"
	"hopperful/quantity"
	"hopperful/shop"
)

// blendFlags are what a blend is asked with.
type blendFlags struct {
	reading         readingFlags
	req             blend.Request
	lots, whyNot    []string
	without         []string
	order, name, by string
	step, least     *float64
	save            bool
}

func blendCommand(env *Env) *cobra.Command {
	var b blendFlags
	c := &cobra.Command{
		Use: "blend NEED",
		Example: `  hopperful blend 150g --polymer PLA
  hopperful blend 150g --polymer PLA --order cheapest --mean-age 1.5 --step 5g
  hopperful blend 100g --polymer PETG --most-lots 2 --json
  hopperful blend 150g --polymer PLA --why-not V1
  hopperful blend 150g --polymer PLA --moisture 0.1% --metal 20ppm
  hopperful blend 120g --polymer PLA --colour black --save --name "black, for brackets"`,
		Args: takes(1, 1, "takes.one_need_a_file_a"),
		RunE: func(c *cobra.Command, args []string) error { return b.run(c, env, args[0]) },
	}
	b.flags(c)
	whyFlag(c, "mean_passes")
	shopFlag(c)
	completes(c, env, openNeeds, cobra.ShellCompDirectiveDefault)
	completesFlag(c, env, "lot", lotsOnHand)
	completesFlag(c, env, "without", lotsOnHand)
	completesFlag(c, env, "why-not", lotsOnHand)
	completesFlag(c, env, "polymer", knownMaterials)
	return c
}

// blendOrderWords are the orders as typed.
var blendOrderWords = map[string]blend.Order{"old": blend.OldFirst, "cheapest": blend.Cheapest, "nearest": blend.NearestColour}

func (b *blendFlags) flags(c *cobra.Command) {
	b.reading.flags(c)
	f := c.Flags()
	f.StringVar(&b.req.RGB, "rgb", "", "")
	quantityVar(c, &b.req.WithinDE, "within", quantity.Number)
	f.Var(wordFlag{[]string{"old", "cheapest", "nearest"}, &b.order}, "order", "")
	f.IntVar(&b.req.MostLots, "most-lots", 0, "")
	quantityVar(c, &b.step, "step", quantity.Mass)
	quantityVar(c, &b.least, "least", quantity.Mass)
	quantityVar(c, &b.req.Reserve, "reserve", quantity.Share)
	f.StringArrayVar(&b.lots, "lot", nil, "")
	f.StringArrayVar(&b.without, "without", nil, "")
	quantityVar(c, &b.req.MeanAge, "mean-age", quantity.Number)
	quantityVar(c, &b.req.OldestAge, "oldest", quantity.Number)
	quantityVar(c, &b.req.Fines, "fines", quantity.Share)
	quantityVar(c, &b.req.Moisture, "moisture", quantity.Share)
	quantityVar(c, &b.req.Metal, "metal", quantity.Share)
	quantityVar(c, &b.req.FlowLow, "flow-from", quantity.MeltFlow)
	quantityVar(c, &b.req.FlowHigh, "flow-to", quantity.MeltFlow)
	f.BoolVar(&b.req.Sturdy, "sturdy", false, "")
	f.StringArrayVar(&b.whyNot, "why-not", nil, "")
	f.BoolVar(&b.save, "save", false, "")
	f.StringVar(&b.name, "name", "", "")
	f.StringVar(&b.by, "by", "", "")
}

func (b *blendFlags) run(c *cobra.Command, env *Env, word string) error {
	read, keep := readShop, (*books)(nil)
	if b.save {
		var err error
		if keep, err = openShop(c, env); err != nil {
			return err
		}
		defer keep.Close()
		read = func(*cobra.Command, *Env) (*shop.State, error) { return keep.State() }
	}
	state, err := read(c, env)
	if err != nil {
		return err
	}
	asked, err := b.reading.find(c, env, state, word)
	if err != nil {
		return err
	}
	if strings.EqualFold(b.req.RGB, "any") {
		b.req.RGB, b.req.AnyColour = "", true
	}
	b.req.Need, b.req.Order, b.req.Now = asked.Need, blendOrderWords[b.order], env.Now()
	if b.step != nil {
		b.req.Step = *b.step
	}
	if b.least != nil {
		b.req.Least = *b.least
	}
	if b.req.Lots, err = lots(b.lots); err != nil {
		return err
	}
	if b.req.Without, err = lots(b.without); err != nil {
		return err
	}
	if b.req.WhyNot, err = lots(b.whyNot); err != nil {
		return err
	}
	found, err := blend.Find(state, b.req)
	if err != nil {
		return err
	}
	p, doc := speaks(env, state), found.Document()
	if b.save {
		kept, err := b.keep(c, keep, found)
		if err != nil {
			return err
		}
		doc.Steps = []answer.Action{{Do: kept}}
	}
	return answers(c, env, p, doc)
}

// keep writes the best recipe down, and says as what.
func (b *blendFlags) keep(c *cobra.Command, keep *books, found blend.Blending) (fact.Saying, error) {
	body, ok := found.Record(cmp.Or(b.name, found.NeedName))
	if !ok {
		return fact.Saying{}, &failure{what: found.Says, advice: fact.Say("blend.nothing_written", fact.Parts("advice", found.Blocked.Nearest))}
	}
	kept, _, err := keep.Append(c.Context(), shop.Record{By: b.by, Body: body})
	if err != nil {
		return fact.Saying{}, err
	}
	made, ok := kept.Body.(*shop.Blended)
	if !ok {
		return fact.Saying{}, fmt.Errorf("record %d is not the blend that was to be kept", kept.ID)
	}
	return fact.Say("blend.written_down", fact.Count("record", int(kept.ID)), fact.Lot("lot", string(made.Into), "")), nil
}
