package plausibility

import (
	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/traceability"
	"hopperful/process/bulk"
	"hopperful/quantity"
	"hopperful/shop"
)

// Question asks about a record that was kept but can hardly be true. The record
// stands; the person says that it is so, or corrects it. Until then nothing is
// learned from it.
type Question struct {
	answer.Finding // its remedies say what was likely meant, and what would make it so
	Record         shop.RecordID
	Code           shop.AskCode
	Field          string   // of the record's body
	Meant          *float64 // what was likely meant, SI
	Swap           string   // the field it was likely swapped with, "" for none
	Value          float64  // what the field says, SI
	Or             *shop.Reading
	Kind           quantity.Kind
}

// Of asks about a record: what room, chamber, scale and clock speak against
// ([shop.State.AsksOf]), and a colour far from what the lot's parents forecast.
// An unknown record, one that says nothing doubtful, and one a person has said
// to be so, has none.
func Of(s *shop.State, id shop.RecordID) []Question {
	r, ok := s.Record(id)
	if !ok {
		return nil
	}
	if b, coloured := r.Body.(*shop.Coloured); coloured {
		return Coloured(s, id, traceability.ColourDoubts(s, id, b.Lot))
	}
	var list []Question
	for _, a := range s.AsksOf(id) {
		list = append(list, said(s, r, a))
	}
	return list
}

// Coloured makes questions of what is doubted about a colour, unless a person
// has said that it is so.
func Coloured(s *shop.State, id shop.RecordID, doubts []answer.Finding) []Question {
	if s.Confirmed(id, shop.ColourOfNoParent) {
		return nil
	}
	var list []Question
	for _, d := range doubts {
		list = append(list, Question{Record: id, Code: shop.ColourOfNoParent, Field: "rgb", Finding: d})
	}
	return list
}

// Open are the questions about all records but colours, the oldest record first.
func Open(s *shop.State) []Question {
	var list []Question
	for _, a := range s.Asks() {
		if r, ok := s.Record(a.Record); ok {
			list = append(list, said(s, r, a))
		}
	}
	return list
}

// TooDense says that a jar holds more of a plastic than loose grains can, or
// false.
func TooDense(name string, mass, jar, solid float64) (answer.Finding, bool) {
	packed, err := bulk.JudgePacking(mass/jar, solid)
	if err == nil && !packed.Questioned() {
		return answer.Finding{}, false
	}
	word := fact.Word("word", "plausibility.no_granulate")
	switch packed.Verdict {
	case bulk.Impossible:
		word = fact.Word("word", "plausibility.denser_than_solid")
	case bulk.TooDense:
		word = fact.Word("word", "plausibility.denser_than_spheres")
	case bulk.Doubtful:
		word = fact.Word("word", "plausibility.denser_than_shaken")
	}
	return answer.Found(fact.Say("plausibility.jar", fact.Measured("mass", quantity.Mass, mass), fact.Name("polymer", name), fact.Set("jar", quantity.Volume, jar),
		fact.About("share", quantity.Share, mass/jar/solid), word), fact.Say("plausibility.weigh_jar_again")), true
}
