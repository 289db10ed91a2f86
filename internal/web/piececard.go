package web

import (
	"fmt"

	"hopperful/plan/piece"
	"hopperful/polymer/identify"
	"hopperful/shop"
)

// cardView is the one thing to try next, as large as a glove.
type cardView struct {
	Ask, How, Caution string
	Time              string
	Yes, No, Cannot   link
	Mix               string // where the liquid's recipe is; "" when none is mixed
}

// card picks what to ask: whether anything speaks of chlorine first of all, then
// the most telling test that was not put off, and before a chip is floated
// whether it is solid. Nil: nothing is left to try.
func (a *pieceAsked) card(out piece.Identification) *cardView {
	if !a.begun() {
		return &cardView{
			Ask:  "Does anything speak of chlorine?",
			How:  "A marking PVC, V or 3 in the triangle, a sharp smell when it was warm, a maker's word, a cable or a window frame. Look before anything is warmed.",
			Time: "1 min",
			Yes:  link{a.with("chlorine", "yes"), "Yes"}, No: link{a.with("chlorine", "no"), "No"},
			Cannot: link{a.with("chlorine", "unknown"), "I cannot tell"},
		}
	}
	for _, t := range tries(out) {
		if a.putOff(t) {
			continue
		}
		if t.Kind == identify.Float && a.opt.Solid == shop.Unknown {
			return &cardView{
				Ask:  "Have you a solid chip of it?",
				How:  "The next test floats it. A print with infill holds air and floats where its plastic sinks: cut a solid chip, or crush the piece.",
				Time: "2 min", Caution: "Blades slip and chips fly: cut away from yourself, eye protection.",
				Yes: link{a.with("solid", "yes"), "Yes, solid"}, No: link{a.with("solid", "no"), "No, hollow"},
				Cannot: link{a.with("skip", tryOf(t)), "Another test, please"},
			}
		}
		return a.testCard(t)
	}
	return nil
}

// begun reports whether the question of chlorine is behind.
func (a *pieceAsked) begun() bool {
	return a.said.Get("chlorine") != "" || len(a.said["found"]) > 0 || len(a.in.Wrong) > 0
}

// tries are all tests worth a try, the most telling a minute first.
func tries(out piece.Identification) []piece.Test {
	if out.Next == nil {
		return nil
	}
	return append([]piece.Test{*out.Next}, out.Tests...)
}

// tryOf names a test whatever its answer, to put it off.
func tryOf(t piece.Test) string {
	f := t.Finding
	f.Yes = true
	return piece.Spell(f)
}

// putOff reports whether a test cannot be done now.
func (a *pieceAsked) putOff(t piece.Test) bool {
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
func (a *pieceAsked) testCard(t piece.Test) *cardView {
	yes, no := t.Finding, t.Finding
	yes.Yes, no.Yes = true, false
	c := &cardView{Ask: t.Ask, How: t.How, Caution: t.Caution, Time: untailed(t.Time.Shown()),
		Yes: link{a.with("found", piece.Spell(yes)), "Yes"}, No: link{a.with("found", piece.Spell(no)), "No"},
		Cannot: link{a.with("skip", tryOf(t)), "I cannot do this"}}
	if t.Kind == identify.Float {
		c.Yes.Say, c.No.Say = "It floats", "It sinks"
	}
	if t.Kind == identify.Float && t.Liquid != identify.Water {
		c.Mix = a.mixPath(t)
	}
	return c
}

// mixPath is where the recipe of a test's liquid is, with the way back.
func (a *pieceAsked) mixPath(t piece.Test) string {
	return "/identify/liquid?liquid=" + queryEscape(string(t.Liquid)) + "&density=" + queryEscape(fmt.Sprintf("%g g/cm3", t.Finding.At/1000)) +
		"&back=" + queryEscape(a.to(a.said))
}

// otherView is a test in the list of others.
type otherView struct {
	Ask, How, Caution, Time, IfYes, IfNo string
	Yes, No                              link
	Mix                                  string
	PutOff                               bool
}

// others are the tests but the one on the card, those put off last.
func (a *pieceAsked) others(out piece.Identification, card *cardView) []otherView {
	var now, later []otherView
	all := tries(out)
	if out.Next == nil {
		all = out.Tests
	}
	for _, t := range all {
		c := a.testCard(t)
		if card != nil && card.Ask == t.Ask || t.Kind == identify.Float && a.opt.Solid != shop.Yes {
			continue
		}
		o := otherView{Ask: t.Ask, How: t.How, Caution: t.Caution, Time: c.Time, IfYes: t.IfYes, IfNo: t.IfNo, Yes: c.Yes, No: c.No, Mix: c.Mix, PutOff: a.putOff(t)}
		if o.PutOff {
			later = append(later, o)
		} else {
			now = append(now, o)
		}
	}
	return append(now, later...)
}
