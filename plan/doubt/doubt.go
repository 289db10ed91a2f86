package doubt

import (
	"fmt"

	"hopperful/answer"
	"hopperful/plan/lineage"
	"hopperful/polymer"
	"hopperful/process/bulk"
	"hopperful/quantity"
	"hopperful/shop"
)

// Of asks about a record that was kept but can hardly be true: a jar that
// weighs more than loose granulate of its plastic can, a colour far from what the
// lot's parents forecast. The record stands; the person decides. An unknown record, or one that says nothing doubtful, has
// none.
func Of(s *shop.State, id shop.RecordID) []answer.Spoiler {
	r, ok := s.Record(id)
	if !ok {
		return nil
	}
	switch b := r.Body.(type) {
	case *shop.JarWeighed:
		return jarDoubts(s, b.Lot, b.Poured, b.Jar)
	case *shop.Ground:
		mill, known := s.Mill(b.Mill)
		if known && b.Product != nil && mill.Jar != nil {
			return jarDoubts(s, b.From, *b.Product, *mill.Jar)
		}
	case *shop.Coloured:
		return lineage.ColourDoubts(s, id, b.Lot)
	}
	return nil
}

// jarDoubts looks at a mass of a lot's plastic in a jar.
func jarDoubts(s *shop.State, id shop.LotID, mass, jar float64) []answer.Spoiler {
	lot, ok := s.Lot(id)
	if !ok || lot.Polymer == "" || jar <= 0 {
		return nil
	}
	table, err := s.Table()
	if err != nil {
		return nil // the shop's own values are at fault, and every plan says so
	}
	p, err := table.Find(lot.Polymer)
	if err != nil {
		return nil // a name no table knows has no density to hold the jar against
	}
	solid, err := p.Value(polymer.Density)
	if err != nil {
		return nil
	}
	if d, doubtful := TooDense(p.Name, mass, jar, solid.Value); doubtful {
		return []answer.Spoiler{d}
	}
	return nil
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
