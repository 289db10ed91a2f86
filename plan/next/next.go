// Package next says what to do next.
package next

import (
	"slices"
	"strconv"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/campaign"
	"hopperful/plan/plausibility"
	"hopperful/quantity"
	"hopperful/shop"
)

// Of says what to do now, the most useful first, as the steps of an answer. What is
// damaged comes before all else, since nobody is to grind with it. An empty shop is led
// from its mill to its first plan; later on the open needs come first, then the records
// that are asked about, then what keeps material from being used.
func Of(s *shop.State) answer.Document {
	damaged, screens := screenAdvice(s)
	broken, parts := partAdvice(s)
	all := append(damaged, broken...)
	under := map[string]bool{}          // needs that a campaign grinds for
	for _, c := range s.Campaigning() { // the mill is warm and waits
		all = append(all, campaign.GoOn(c))
		for _, need := range c.Needs {
			under[need] = true
		}
	}
	all = append(all, beginnings(s)...)
	all = append(all, screens...)
	for _, need := range s.Needs {
		switch {
		case need.Done, under[need.Name]:
		case need.RGB != "":
			all = append(all, answer.Action{Do: fact.Say("do.find_recipe", fact.Name("need", need.Name)),
				Why: fact.Say("next.need_looks", fact.Parts("wants", wants(need)), fact.Name("rgb", need.RGB))})
		default:
			all = append(all, answer.Action{Do: fact.Say("do.plan", fact.Name("need", need.Name)), Why: wants(need)})
		}
	}
	all = append(all, questions(s)...)
	all = append(all, obstacles(s)...)
	all = append(all, parts...)
	if len(s.Needs) > 0 && len(all) == 0 {
		all = append(all, answer.Action{Do: fact.Say("do.say_next_need"), Why: fact.Say("next.all_done")})
	}
	if len(all) == 0 {
		return answer.Document{Head: answer.Found(fact.Say("next.nothing"))}
	}
	return answer.Document{Head: answer.Found(fact.Say("next.waits", fact.Count("n", len(all)))), Steps: all}
}

// beginnings are the steps of a new shop, in order; only the first that is open
// and those that do not depend on it are told.
func beginnings(s *shop.State) []answer.Action {
	var all []answer.Action
	add := func(missing bool, do, why fact.Saying) {
		if missing {
			all = append(all, answer.Action{Do: do, Why: why})
		}
	}
	add(len(s.ActiveMills()) == 0, fact.Say("do.describe_mill"), fact.Say("next.mill_sharper"))
	add(len(s.Scales) == 0, fact.Say("do.describe_scale"), fact.Say("next.scale_digit"))
	add(len(s.Order) == 0, fact.Say("do.take_in"), fact.Say("next.guess_is_fine"))
	add(len(s.Needs) == 0, fact.Say("do.say_need"), fact.Say("next.need_forms"))
	return all
}

// wants is what a need wants.
func wants(n shop.Need) fact.Saying {
	amount := fact.Name("amount", "")
	switch {
	case n.Mass != nil:
		amount = fact.Set("amount", quantity.Mass, *n.Mass)
	case n.Volume != nil:
		amount = fact.Set("amount", quantity.Volume, *n.Volume)
	}
	return fact.Say("next.need_wants", amount.As("amount"), fact.Name("polymer", n.Polymer))
}

// mostAsked is how many records asked about are named one by one. Judgement.
const mostAsked = 3

// questions are the records that wait for an answer, the newest first: nothing is
// learned from them until somebody says that they are so, or mends them.
func questions(s *shop.State) []answer.Action {
	var all []answer.Action
	open, seen := plausibility.Open(s), map[shop.RecordID]bool{}
	for _, q := range slices.Backward(open) {
		if seen[q.Record] {
			continue
		}
		if seen[q.Record] = true; len(seen) <= mostAsked {
			last := max(0, len(q.Remedies)-1) // before it: what was likely meant
			why := fact.Say("next.asked_about", fact.Parts("what", q.Saying),
				fact.Parts("meant", q.Remedies[:last]...), fact.Parts("unless", q.Remedies[last:]...))
			all = append(all, answer.Action{Do: fact.Say("do.answer_question", fact.Name("record", strconv.FormatInt(int64(q.Record), 10))), Why: why})
		}
	}
	if more := len(seen) - mostAsked; more > 0 {
		all = append(all, answer.Action{Do: fact.Say("do.answer_questions", fact.Count("n", more)), Why: fact.Say("next.nothing_learned")})
	}
	return all
}

// leastHeld is what in a mill is worth weighing [kg]. Judgement.
const leastHeld = 0.02

// obstacles are the things that keep material from being used.
func obstacles(s *shop.State) []answer.Action {
	var all []answer.Action
	for _, m := range s.ActiveMills() {
		if s.Resolution(m.Held) < m.Held && m.Held > leastHeld {
			all = append(all, answer.Action{Do: fact.Say("do.weigh_mill", fact.Name("mill", m.Name)),
				Why: fact.Say("next.mill_holds", fact.Set("held", quantity.Mass, m.Held))})
		}
	}
	for _, lot := range s.Stock(shop.Scrap) {
		switch bar := lot.Bar(); {
		case bar != nil && bar.Code != shop.BarUnknown:
			all = append(all, answer.Action{Do: fact.Say("do.set_aside", answer.Lot("lot", lot)), Why: barSays(bar)})
		case bar != nil:
			all = append(all, answer.Action{Do: fact.Say("do.identify", answer.Lot("lot", lot)),
				Why: fact.Say("next.lies_unknown", fact.Set("mass", quantity.Mass, lot.Mass))})
		case lot.Metal != "":
			all = append(all, answer.Action{Do: fact.Say("do.cut_metal", answer.Lot("lot", lot)),
				Why: fact.Say("next.holds_metal", fact.Name("metal", lot.Metal))})
		}
	}
	return all
}

// barSays is why a lot is set aside, and how.
func barSays(b *shop.Bar) fact.Saying {
	why, instead := b.Says()
	return fact.Say("next.why_aside", fact.Parts("why", why), fact.Parts("instead", instead))
}
