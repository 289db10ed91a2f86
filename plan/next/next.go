// Package next says what to do next.
package next

import (
	"fmt"

	"hopperful/answer"
	"hopperful/quantity"
	"hopperful/shop"
)

// Place is where in the program an advice is acted upon; each edge knows its own
// page or command for it.
type Place string

// The places.
const (
	ToMill   Place = "mill"     // describe a mill
	ToScale  Place = "scale"    // describe a scale
	ToTakeIn Place = "take_in"  // take scrap in
	ToNeed   Place = "need"     // say what is to be printed
	ToPlan   Place = "plan"     // plan the need named by Ref
	ToBlend  Place = "blend"    // find a recipe for the need named by Ref
	ToLot    Place = "lot"      // look after the lot named by Ref
	ToFind   Place = "identify" // find out what the lot named by Ref is
	ToCharge Place = "charge"   // record a charge of the mill named by Ref
)

// Advice is one thing to do next.
type Advice struct {
	Do  string `json:"do"`            // "Plan the bracket"
	Why string `json:"why"`           // in one sentence
	To  Place  `json:"to"`            // where
	Ref string `json:"ref,omitempty"` // which
}

// Of says what to do now, the most useful first. An empty shop is led from
// its mill to its first plan; later on the open needs come first, then what
// keeps material from being used.
func Of(s *shop.State) []Advice {
	var all []Advice
	all = append(all, beginnings(s)...)
	all = append(all, screenAdvice(s)...)
	for _, need := range s.Needs {
		switch {
		case need.Done:
		case need.RGB != "":
			all = append(all, Advice{Do: fmt.Sprintf("Find a recipe for %s", need.Name), Why: fmt.Sprintf("%s It shall look like %s.", needWords(need), need.RGB), To: ToBlend, Ref: need.Name})
		default:
			all = append(all, Advice{Do: fmt.Sprintf("Plan %s", need.Name), Why: needWords(need), To: ToPlan, Ref: need.Name})
		}
	}
	all = append(all, obstacles(s)...)
	if len(s.Needs) > 0 && len(all) == 0 {
		all = append(all, Advice{Do: "Say what you print next", Why: "Every need is done; the next print's file or mass starts a new plan.", To: ToNeed})
	}
	return all
}

// beginnings are the steps of a new shop, in order; only the first that is open
// and those that do not depend on it are told.
func beginnings(s *shop.State) []Advice {
	var all []Advice
	if len(s.ActiveMills()) == 0 {
		all = append(all, Advice{Do: "Describe your mill", Why: "Everything but its name may stay unknown; what you know makes the plan sharper.", To: ToMill})
	}
	if len(s.Scales) == 0 {
		all = append(all, Advice{Do: "Say which scale you weigh with", Why: "Its finest digit tells how much may go missing unnoticed.", To: ToScale})
	}
	if len(s.Order) == 0 {
		all = append(all, Advice{Do: "Take in your first bin of scrap", Why: "Weigh it and say what it is; a guess is fine, and so is not knowing.", To: ToTakeIn})
	}
	if len(s.Needs) == 0 {
		all = append(all, Advice{Do: "Say what you want to print", Why: "A G-code, an STL or 3MF, or simply a mass such as 240 g.", To: ToNeed})
	}
	return all
}

func needWords(n shop.Need) string {
	of := n.Polymer
	if of == "" {
		of = "a polymer yet to be named"
	}
	switch {
	case n.Mass != nil:
		return fmt.Sprintf("It wants %s of %s.", quantity.Mass.Plain(*n.Mass), of)
	case n.Volume != nil:
		return fmt.Sprintf("It wants %s of %s.", quantity.Volume.Plain(*n.Volume), of)
	}
	return fmt.Sprintf("It wants %s.", of)
}

// obstacles are the things that keep material from being used.
func obstacles(s *shop.State) []Advice {
	var all []Advice
	for _, m := range s.ActiveMills() {
		if s.Resolution(m.Held) < m.Held && m.Held > 0.02 {
			all = append(all, Advice{Do: fmt.Sprintf("Weigh what is in %s", m.Name), To: ToCharge, Ref: m.Name,
				Why: fmt.Sprintf("By the records %s still sits in it.", quantity.Mass.Plain(m.Held))})
		}
	}
	for _, id := range s.Order {
		lot := s.Lots[id]
		if lot.Class != shop.Scrap || lot.Mass <= 0 {
			continue
		}
		switch bar := lot.Bar(); {
		case bar != nil && bar.Code != shop.BarUnknown:
			all = append(all, lotAdvice(lot, "Keep %s out of mill, dryer and printer", bar.Why()+" "+bar.Instead()))
		case bar != nil:
			a := lotAdvice(lot, "Find out what %s is", fmt.Sprintf("%s lie there unused because nobody knows the plastic.", quantity.Mass.Plain(lot.Mass)))
			a.To = ToFind
			all = append(all, a)
		case lot.Metal != "":
			all = append(all, lotAdvice(lot, "Cut the metal out of %s", fmt.Sprintf("It holds %s; then record it as sorted.", lot.Metal)))
		}
	}
	return all
}

func lotAdvice(lot *shop.Lot, do, why string) Advice {
	return Advice{Do: fmt.Sprintf(do, answer.LotName(lot)), Why: why, To: ToLot, Ref: string(lot.ID)}
}
