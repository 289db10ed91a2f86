package next

import (
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/sieving"
	"hopperful/plan/upkeep"
	"hopperful/shop"
)

// partAdvice is what the upkeep of the mills asks for, but for a damaged screen, which
// screenAdvice tells with its evidence.
func partAdvice(s *shop.State) []answer.Action {
	return slices.DeleteFunc(upkeep.Advice(s), func(a answer.Action) bool {
		return a.Do.Code == "do.mend_part" && a.Do.Text("key") == string(shop.ScreenPart)
	})
}

// screenAdvice asks for a look at a screen where the records say so. It leads to
// the lot whose stack or magnet gave the sign, because the evidence is there.
func screenAdvice(s *shop.State) []answer.Action {
	var all []answer.Action
	for _, m := range s.ActiveMills() {
		o, err := sieving.Screen(s, m.Name)
		if err != nil || o.Word != sieving.LookNow { // what cannot be judged is no advice
			continue
		}
		evidence := ""
		switch {
		case o.Damaged != 0:
			all = append(all, answer.Action{Do: fact.Say("do.replace_screen", fact.Name("mill", m.Name)), Why: o.Head.Saying})
			continue
		case o.Torn != nil && o.Torn.Alarm:
			evidence = string(o.Torn.Lot)
		case o.Metal != nil && o.Metal.Alarm:
			evidence = string(o.Metal.Lot)
		}
		all = append(all, answer.Action{Do: fact.Say("do.look_at_screen", fact.Name("mill", m.Name), fact.Lot("lot", evidence, "")), Why: o.Head.Saying})
	}
	return all
}
