package lineage

import (
	"fmt"

	"hopperful/figure"
	"hopperful/process/ageing"
	"hopperful/quantity"
	"hopperful/shop"
)

// forecast adds what the age makes of flow and strength, and the notes.
func (a *LotAge) forecast(w *Ager, lot *shop.Lot) error {
	var err error
	if a.MeltFlow, err = w.Flow(lot); err != nil {
		return err
	}
	strength, err := w.StrengthOf(lot)
	if err != nil {
		return err
	}
	if a.Strength, err = strength.figure(); err != nil {
		return err
	}
	if a.MeltFlow == nil || a.Strength == nil {
		a.Notes = append(a.Notes, fmt.Sprintf("Nothing is known of how %s ages, or not enough; a melt-flow test tells its flow.", nameOr(lot.Polymer, "a plastic nobody has named")))
	}
	if !strength.p.known {
		return nil
	}
	if t, err := w.factorOf(strength.p); err == nil {
		f := t.figure()
		a.PerPass, a.Taught = &f, t.lots
	}
	return a.water(strength)
}

// water adds what water did to the chains, and what the records say of it.
func (a *LotAge) water(k Strength) error {
	p, age := k.p, k.Age
	if !p.cut || a.Mean.High == 0 {
		return nil
	}
	var gains [3]float64
	for i, x := range age.all() {
		var err error
		if gains[i], err = p.gain(0, x.Cuts); err != nil {
			return err
		}
	}
	f := figure.Exact("water_gain", "melt flow with the water over without", quantity.Number, gains[1], figure.Reckoned).
		From("(1 + molar mass × chains cut) to the power 3.4").Cite("Azom2026", "power of the molar mass").Cite(p.reacts.Source, p.reacts.Place)
	f.Low, f.High = gains[0], gains[2]
	a.Water = &f
	var err error
	if a.Chains, err = k.Chains(); err != nil {
		return err
	}
	if age.unsaid > 0 {
		who := "Nobody wrote down"
		if age.said > 0 {
			who = fmt.Sprintf("For %s of its passes here nobody wrote down", quantity.Share.Rough(age.unsaid/(age.said+age.unsaid)))
		}
		a.Notes = append(a.Notes, fmt.Sprintf("%s how damp it was when it was melted: taken as dry at the low end, as at rest with the room's air (%s of water) at the high end, half of that in the middle, and dry where it was dried within a day before. The record of a print takes its moisture.",
			who, quantity.Share.Plain(p.rest)))
	}
	if age.judged > 0 {
		a.Notes = append(a.Notes, "What came from outside is taken as melted dry there, but half way to damp at the high end.")
	}
	return nil
}

func citeStudies(f figure.Figure, studies []ageing.Study) *figure.Figure {
	for _, one := range studies {
		f = f.Cite(one.Source, one.Place)
	}
	return &f
}

// nameOr is a polymer's name, or other words when it has none.
func nameOr(name, other string) string {
	if name == "" {
		return other
	}
	return name
}
