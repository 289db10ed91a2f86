package next

import (
	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/sieving"
	"hopperful/plan/upkeep"
	"hopperful/shop"
)

// partAdvice is what the upkeep of the mills asks for: parts found damaged, and all
// else. A damaged screen is screenAdvice's, which tells it with its evidence.
func partAdvice(s *shop.State) (damaged, rest []answer.Action) {
	for _, a := range upkeep.Advice(s) {
		switch {
		case a.Do.Code != "do.mend_part":
			rest = append(rest, a)
		case a.Do.Text("key") != string(shop.ScreenPart):
			damaged = append(damaged, a)
		}
	}
	return damaged, rest
}

// screenAdvice asks for a look at a screen where the records say so. It leads to
// the lot whose stack or magnet gave the sign, because the evidence is there. A screen
// known to be damaged is told apart.
func screenAdvice(s *shop.State) (damaged, looks []answer.Action) {
	for _, m := range s.ActiveMills() {
		o, err := sieving.Screen(s, m.Name)
		if err != nil || o.Word != sieving.LookNow { // what cannot be judged is no advice
			continue
		}
		evidence := ""
		switch {
		case o.Damaged != 0:
			damaged = append(damaged, answer.Action{Do: fact.Say("do.replace_screen", fact.Name("mill", m.Name)), Why: o.Head.Saying})
			continue
		case o.Torn != nil && o.Torn.Alarm:
			evidence = string(o.Torn.Lot)
		case o.Metal != nil && o.Metal.Alarm:
			evidence = string(o.Metal.Lot)
		}
		looks = append(looks, answer.Action{Do: fact.Say("do.look_at_screen", fact.Name("mill", m.Name), fact.Lot("lot", evidence, "")), Why: o.Head.Saying})
	}
	return damaged, looks
}
