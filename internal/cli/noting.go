package cli

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/internal/say"
	"hopperful/plan"
	"hopperful/plan/plausibility"
	"hopperful/quantity"
	"hopperful/shop"
)

// noting is what every record has: when, who, a note, what it corrects.
type noting struct {
	at       time.Time
	by, note string
	corrects int64
}

// flags adds the flags of noting. The words that a correction leaves out are those of the
// record it corrects; with them there have to be as many as ever.
func (n *noting) flags(c *cobra.Command, env *Env) {
	c.Flags().Var(whenFlag{now: env.Now, into: &n.at}, "at", "")
	c.Flags().StringVar(&n.by, "by", "", "")
	c.Flags().StringVar(&n.note, "note", "", "")
	c.Flags().Int64Var(&n.corrects, "corrects", 0, "")
	if run, count := c.RunE, c.Args; run != nil {
		c.Args = func(c *cobra.Command, args []string) error {
			if correcting(c) {
				return nil
			}
			return count(c, args)
		}
		c.RunE = func(c *cobra.Command, args []string) error {
			args, err := n.filled(c, env, args)
			if err == nil {
				err = count(c, args)
			}
			if err != nil {
				return err
			}
			return run(c, args)
		}
	}
}

// write asks for the record's body, given the shop as it is, keeps it, and
// says what was kept.
func (n *noting) write(c *cobra.Command, env *Env, body func(*shop.State) (shop.Body, error)) error {
	books, err := openShop(c, env)
	if err != nil {
		return err
	}
	defer books.Close()
	before, err := books.State()
	if err != nil {
		return err
	}
	b, err := body(before)
	if err != nil {
		return err
	}
	by := n.by
	if old, ok := standingAs(before, shop.RecordID(n.corrects)); ok && b.Kind() == old.Body.Kind() {
		if b, err = laidOver(c, old.Body, b); err != nil {
			return err
		}
		if by == "" {
			by = old.By
		}
	}
	kept, after, err := books.Append(c.Context(), shop.Record{At: n.at, By: by, Note: n.note, Corrects: shop.RecordID(n.corrects), Body: b})
	if err != nil {
		return err
	}
	return showKept(c, env, before, after, kept)
}

// showKept says which record was kept, what the lots it touched now hold, and what follows
// from it.
func showKept(c *cobra.Command, env *Env, before, after *shop.State, kept shop.Record) error {
	lots := []exchange.Lot{}
	for _, id := range after.Order {
		l := after.Lots.At(id)
		if was, ok := before.Lot(id); !ok || was.Mass != l.Mass {
			lots = append(lots, exchange.LotOf(env.speaks(), l))
		}
	}
	asked := questionsOut(speaks(env, after), plausibility.Of(after, rootOf(kept)))
	follows, foretold := followsFrom(kept, after), foretold(after, rootOf(kept))
	if asJSON(c) {
		told := []say.Line{}
		for _, one := range append(follows, foretold...) {
			told = append(told, env.speaks().Sentence(one))
		}
		return writeJSON(env, struct {
			Record    recordJSON     `json:"record"`
			Lots      []exchange.Lot `json:"lots"`
			Questions []questionJSON `json:"questions"`
			Told      []say.Line     `json:"told"`
		}{recordOut(env.speaks(), kept), lots, asked, told})
	}
	plain(env.Out, "%s", env.speaks().Line("cli.record", fact.Count("id", int(kept.ID)), fact.Name("body", env.speaks().Say(shop.Describe(kept.Body)))))
	for _, l := range lots {
		plain(env.Out, "%s", env.speaks().Line("cli.now_holds", fact.Name("label", string(l.Label)), fact.Figure("mass", l.Mass)))
	}
	for _, l := range lots {
		if l.Bar != nil && l.Mass.Value > 0 {
			plain(env.Out, "%s: %s %s", l.Label, l.Bar.Why, l.Bar.Instead)
		}
	}
	for _, one := range env.speaks().All(follows) {
		plain(env.Out, "%s", one)
	}
	ask(env, asked)
	for _, one := range env.speaks().All(foretold) {
		plain(env.Out, "%s", one)
	}
	return nil
}

// followsFrom says what to do after a record was kept, and what changes with it.
func followsFrom(kept shop.Record, after *shop.State) (all []fact.Saying) {
	if b, ok := kept.Body.(*shop.TakenIn); ok && b.Class == shop.Scrap && b.Pieces.Bricks() {
		all = append(all, b.Pieces.BreakUp())
	}
	if changed := after.Changed(rootOf(kept)); len(changed) > 0 {
		all = append(all, fact.Say("cli.changed_from_now", fact.Parts("changed", partNames(changed)...), fact.Count("kept", int(rootOf(kept)))))
	}
	return all
}

// foretold says, of a charge that was written down, what the records before it had foretold.
func foretold(after *shop.State, id shop.RecordID) []fact.Saying {
	if r, ok := after.Record(id); !ok || r.Body.Kind() != (*shop.Ground)(nil).Kind() {
		return nil
	}
	f, err := plan.Compare(after, id)
	if err != nil { // the charge is kept all the same
		return []fact.Saying{fact.Say("cli.no_forecast", fact.Name("why", err.Error()))}
	}
	return f.Told()
}

// rootOf is the number a record stands under: that of the one it corrects.
func rootOf(r shop.Record) shop.RecordID {
	if r.Corrects != 0 {
		return r.Corrects
	}
	return r.ID
}

// ask prints what is asked about a record, and how it is answered.
func ask(env *Env, questions []questionJSON) {
	for _, q := range questions {
		plain(env.Out, "%s %s %s", env.speaks().Line("plausibility.is_it_right"), q.What, q.Remedy)
	}
	if len(questions) > 0 {
		plain(env.Out, "%s", env.speaks().Line("plausibility.how_to_answer", fact.Name("record", fmt.Sprint(questions[0].Record))))
	}
}

// quantityArg reads a quantity that stands as a word of the command.
func quantityArg(c *cobra.Command, kind quantity.Kind, text string) (float64, error) {
	v, err := kind.Parse(text)
	if err != nil {
		return 0, usage(c, err)
	}
	return v, nil
}

// optionalLot reads a label that may be left out.
func optionalLot(text string) (shop.LotID, error) {
	if text == "" {
		return "", nil
	}
	return shop.ParseLot(text)
}

// lots reads several labels.
func lots(texts []string) ([]shop.LotID, error) {
	var ids []shop.LotID
	for _, t := range texts {
		id, err := shop.ParseLot(t)
		if err != nil {
			return nil, err
		}
		ids = append(ids, id)
	}
	return ids, nil
}

// knownPolymer turns what was typed into the material's one name. A material
// the shop added itself counts; "unknown" and nothing are nobody knows.
func knownPolymer(state *shop.State, text string) (string, error) {
	if text == "" || text == "unknown" {
		return "", nil
	}
	table, err := state.Table()
	if err != nil {
		return "", err
	}
	p, err := table.Find(text)
	if err != nil {
		return "", &failure{what: shop.WhyNot(err), advice: fact.Say("cli.do_materials"), err: err}
	}
	return p.Name, nil
}

// number is a record's number as a word of the command.
func number(c *cobra.Command, text string) (shop.RecordID, error) {
	var id shop.RecordID
	if _, err := fmt.Sscanf(text, "%d", &id); err != nil || id < 1 || fmt.Sprint(id) != text {
		return 0, usagef(c, fact.Say("cli.not_a_record_number", fact.Name("text", text)))
	}
	return id, nil
}
