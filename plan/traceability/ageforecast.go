package traceability

import (
	"hopperful/fact"
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
		a.notes = append(a.notes, fact.Say("age.nothing_known", fact.Name("polymer", lot.Polymer)))
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
	f := figure.Exact("water_gain", "age.water_gain", quantity.Number, gains[1], figure.Reckoned).
		From("(1 + M × cuts)^3.4").Cite("Azom2026", "power of the molar mass").Cite(p.reacts.Source, p.reacts.Place)
	f.Low, f.High = gains[0], gains[2]
	a.Water = &f
	var err error
	if a.Chains, err = k.Chains(); err != nil {
		return err
	}
	if age.unsaid > 0 {
		part := fact.Name("part", "")
		if age.said > 0 {
			part = fact.About("part", quantity.Share, age.unsaid/(age.said+age.unsaid))
		}
		a.notes = append(a.notes, fact.Say("age.damp_unsaid", part, fact.Set("rest", quantity.Share, p.rest)))
	}
	if age.judged > 0 {
		a.notes = append(a.notes, fact.Say("age.outside_dry"))
	}
	return nil
}

func citeStudies(f figure.Figure, studies []ageing.Study) *figure.Figure {
	for _, one := range studies {
		f = f.Cite(one.Source, one.Place)
	}
	return &f
}
