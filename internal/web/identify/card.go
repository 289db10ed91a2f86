package identify

import (
	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/plan/identification"
	"hopperful/polymer/identify"
	"hopperful/quantity"
	"hopperful/shop"
)

// cardView is the one thing to try next, as large as a glove.
type cardView struct {
	Ask, How, Caution string
	Time              string
	Yes, No, Cannot   address.Link
	Mix               string // where the liquid's recipe is; "" when none is mixed
}

// card picks what to ask: whether anything speaks of chlorine first of all, then
// the most telling test that was not put off, and before a chip is floated
// whether it is solid. Nil: nothing is left to try.
func (a *pieceAsked) card(p *say.Printer, out identification.Identification) *cardView {
	if !a.begun() {
		return &cardView{
			Ask: p.Line("identification.ask_chlorine"), How: p.Line("identification.how_chlorine"), Time: quantity.Duration.Plain(60),
			Yes: address.Link{To: a.with("chlorine", "yes"), Say: p.Line("page.yes")}, No: address.Link{To: a.with("chlorine", "no"), Say: p.Line("page.no")},
			Cannot: address.Link{To: a.with("chlorine", "unknown"), Say: p.Line("page.piece_cannot_tell")},
		}
	}
	for _, t := range tries(out) {
		if a.putOff(t) {
			continue
		}
		if t.Kind == identify.Float && a.opt.Solid == shop.Unknown {
			return &cardView{
				Ask: p.Line("identification.ask_solid"), How: p.Line("identification.how_solid"), Time: quantity.Duration.Plain(120), Caution: p.Line("identification.mind_solid"),
				Yes: address.Link{To: a.with("solid", "yes"), Say: p.Line("page.piece_yes_solid")}, No: address.Link{To: a.with("solid", "no"), Say: p.Line("page.piece_no_hollow")},
				Cannot: address.Link{To: a.with("skip", tryOf(t)), Say: p.Line("page.piece_another")},
			}
		}
		return a.testCard(p, t)
	}
	return nil
}

// begun reports whether the question of chlorine is behind.
func (a *pieceAsked) begun() bool {
	return a.said.Get("chlorine") != "" || len(a.said["found"]) > 0 || len(a.in.Wrong) > 0
}

// tries are all tests worth a try, the most telling a minute first.
func tries(out identification.Identification) []identification.Test {
	if out.Next == nil {
		return nil
	}
	return append([]identification.Test{*out.Next}, out.Tests...)
}

// tryOf names a test whatever its answer, to put it off.
func tryOf(t identification.Test) string { return identification.Spell(t.Finding(true)) }

// putOff reports whether a test cannot be done now.
func (a *pieceAsked) putOff(t identification.Test) bool {
	if t.Kind == identify.Float && a.opt.Solid == shop.No {
		return true
	}
	for _, skipped := range a.said["skip"] {
		if skipped == tryOf(t) {
			return true
		}
	}
	return false
}

// testCard is a test with its answers.
func (a *pieceAsked) testCard(p *say.Printer, t identification.Test) *cardView {
	c := &cardView{Ask: p.Say(t.Ask), How: p.Say(t.How), Caution: p.Say(t.Mind), Time: p.Number(quantity.Duration.Bare(t.Time.Value)),
		Yes: address.Link{To: a.with("found", identification.Spell(t.Finding(true))), Say: p.Line("page.yes")}, No: address.Link{To: a.with("found", identification.Spell(t.Finding(false))), Say: p.Line("page.no")},
		Cannot: address.Link{To: a.with("skip", tryOf(t)), Say: p.Line("page.piece_cannot")}}
	if t.Kind == identify.Float {
		c.Yes.Say, c.No.Say = p.Line("page.piece_floats"), p.Line("page.piece_sinks")
	}
	if mix := t.Mix(); !mix.Empty() {
		c.Mix = address.LiquidPath(mix) + "&back=" + address.Query(a.to(a.said))
	}
	return c
}

// otherView is a test in the list of others.
type otherView struct {
	Ask, How, Caution, Time, IfYes, IfNo string
	Yes, No                              address.Link
	Mix                                  string
	PutOff                               bool
}

// others are the tests but the one on the card, those put off last.
func (a *pieceAsked) others(p *say.Printer, out identification.Identification, card *cardView) []otherView {
	var now, later []otherView
	all := tries(out)
	if out.Next == nil {
		all = out.Tests
	}
	for _, t := range all {
		c := a.testCard(p, t)
		if card != nil && card.Ask == c.Ask || t.Kind == identify.Float && a.opt.Solid != shop.Yes {
			continue
		}
		o := otherView{Ask: c.Ask, How: c.How, Caution: c.Caution, Time: c.Time, IfYes: p.Say(t.IfYes), IfNo: p.Say(t.IfNo), Yes: c.Yes, No: c.No, Mix: c.Mix, PutOff: a.putOff(t)}
		if o.PutOff {
			later = append(later, o)
		} else {
			now = append(now, o)
		}
	}
	return append(now, later...)
}
