package doubt

import (
	"fmt"

	"hopperful/answer"
	"hopperful/plan/lineage"
	"hopperful/process/bulk"
	"hopperful/quantity"
	"hopperful/shop"
)

// Question asks about a record that was kept but can hardly be true. The record
// stands; the person says that it is so, or corrects it. Until then nothing is
// learned from it.
type Question struct {
	Record shop.RecordID `json:"record"`
	Code   shop.AskCode  `json:"code"`
	Field  string        `json:"field"` // of the record's body
	answer.Spoiler
	Meant *float64 `json:"meant,omitempty"` // what was likely meant, SI
	Kind  string   `json:"kind"`            // of what it measures
	Shown string   `json:"-"`               // what was meant, in words
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
		return Coloured(s, id, lineage.ColourDoubts(s, id, b.Lot))
	}
	var list []Question
	for _, a := range s.AsksOf(id) {
		list = append(list, worded(s, r, a))
	}
	return list
}

// Coloured makes questions of what is doubted about a colour, unless a person
// has said that it is so.
func Coloured(s *shop.State, id shop.RecordID, doubts []answer.Spoiler) []Question {
	if s.Confirmed(id, shop.ColourOfNoParent) {
		return nil
	}
	var list []Question
	for _, d := range doubts {
		list = append(list, Question{Record: id, Code: shop.ColourOfNoParent, Field: "rgb", Spoiler: d, Kind: "colour"})
	}
	return list
}

// Open are the questions about all records but colours, the oldest record first.
func Open(s *shop.State) []Question {
	var list []Question
	for _, a := range s.Asks() {
		if r, ok := s.Record(a.Record); ok {
			list = append(list, worded(s, r, a))
		}
	}
	return list
}

// TooDense says that a jar holds more of a plastic than loose grains can, or
// false.
func TooDense(name string, mass, jar, solid float64) (answer.Spoiler, bool) {
	packed, err := bulk.JudgePacking(mass/jar, solid)
	if err == nil && !packed.Questioned() {
		return answer.Spoiler{}, false
	}
	word := "outside what granulate can weigh"
	if err == nil {
		word = string(packed.Verdict)
	}
	return answer.Spoiler{
		What: fmt.Sprintf("%s of %s in a jar of %s is %s of the solid's density: %s.", quantity.Mass.Show(mass), name,
			quantity.Volume.Plain(jar), quantity.Share.Rough(mass/jar/solid), word),
		Remedy: "Weigh the jar again, empty and full, and fill it with water to check its volume; until then the books' bulk density counts.",
	}, true
}
