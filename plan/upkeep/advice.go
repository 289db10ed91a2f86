package upkeep

import (
	"hopperful/answer"
	"hopperful/shop"
)

// Advice is what the upkeep of all mills in use asks for: damage first, then lots to
// be checked, then looks that are due.
func Advice(s *shop.State) []answer.Action {
	var all []answer.Action
	for _, m := range s.ActiveMills() {
		doc, err := of(s, m.Name, Options{}, true)
		if err != nil { // what cannot be judged is no advice
			continue
		}
		all = append(all, doc.Steps...)
	}
	return all
}
