package next

import (
	"fmt"

	"hopperful/plan/sieving"
	"hopperful/shop"
)

// screenAdvice asks for a look at a screen where the records say so. It leads to
// the lot whose stack or magnet gave the sign, because the evidence is there.
func screenAdvice(s *shop.State) []Advice {
	var all []Advice
	for _, m := range s.ActiveMills() {
		o, err := sieving.Screen(s, m.Name)
		if err != nil || o.Word != sieving.LookNow { // what cannot be judged is no advice
			continue
		}
		a := Advice{Do: fmt.Sprintf("Unplug %s and look at its screen", m.Name), Why: o.Answer, To: ToMill, Ref: m.Name}
		switch {
		case o.Damaged != 0:
			a.Do = fmt.Sprintf("Replace the screen of %s", m.Name)
		case o.Torn != nil && o.Torn.Alarm:
			a.To, a.Ref = ToLot, string(o.Torn.Lot)
		case o.Metal != nil && o.Metal.Alarm:
			a.To, a.Ref = ToLot, string(o.Metal.Lot)
		}
		all = append(all, a)
	}
	return all
}
