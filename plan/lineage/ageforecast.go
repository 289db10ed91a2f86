package lineage

import (
	"fmt"
	"math"

	"hopperful/figure"
	"hopperful/plan/answer"
	"hopperful/process/ageing"
	"hopperful/quantity"
	"hopperful/shop"
)

// forecast adds what the age makes of flow and strength, and the notes.
func (a *LotAge) forecast(w *Ager, lot *shop.Lot, age Spread) error {
	var err error
	if a.MeltFlow, err = w.Flow(lot); err != nil {
		return err
	}
	if a.Strength, err = w.strength(lot, age); err != nil {
		return err
	}
	if a.MeltFlow == nil || a.Strength == nil {
		a.Notes = append(a.Notes, fmt.Sprintf("Nothing is known of how %s ages, or not enough; a melt-flow test tells its flow.", answer.OrUnknown(lot.Polymer)))
	}
	p := w.plasticOf(lot.Polymer)
	if !p.known {
		return nil
	}
	if t, err := w.factorOf(p); err == nil {
		f := t.figure()
		a.PerPass, a.Taught = &f, t.lots
	}
	return a.water(p, age)
}

// water adds what water did to the chains, and what the records say of it.
func (a *LotAge) water(p plastic, age Spread) error {
	if !p.cut || a.Mean.High == 0 {
		return nil
	}
	var gains, kept [3]float64
	for i, x := range age.all() {
		var err error
		if gains[i], err = p.gain(0, x.Cuts); err != nil {
			return err
		}
		left, err := ageing.MolarMass(p.chain.Molar, x.Cuts)
		if err != nil {
			return err
		}
		kept[i] = left / p.chain.Molar
	}
	f := figure.Exact("water_gain", "melt flow with the water over without", quantity.Number, gains[1], figure.Reckoned).
		From("(1 + molar mass × chains cut) to the power 3.4").Cite("Azom2026", "power of the molar mass").Cite(p.reacts.Source, p.reacts.Place)
	f.Low, f.High = gains[0], gains[2]
	a.Water = &f
	c := figure.Exact("chains_kept", "length of the chains over fresh ones, after water", quantity.Share, kept[1], figure.Reckoned).
		From("1 ÷ (1 + molar mass × chains cut)").Cite(p.chain.Source, p.chain.Place).Cite(p.reacts.Source, p.reacts.Place)
	c.Low, c.High = kept[2], kept[0]
	a.Chains = &c
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

// strength is the tensile strength of a print of the lot over one of new
// granulate; nil where no study says. Both have the pass of their own printing,
// which falls out.
func (w *Ager) strength(lot *shop.Lot, age Spread) (*figure.Figure, error) {
	p := w.plasticOf(lot.Polymer)
	if !p.known {
		return nil, nil
	}
	factor, studies, err := ageing.PerPass(p.Name, ageing.TensileStrength)
	if err != nil {
		return unknownAgeing(err)
	}
	kept := func(x ageing.Age, q, brittle float64) (float64, error) {
		passes, err := ageing.Retained(x, q)
		if err != nil || !p.cut {
			return passes, err
		}
		left, err := ageing.StrengthLeft(p.chain.Molar, x.Cuts, brittle)
		return passes * left, err
	}
	mid, err := kept(age.mid, factor.Median, ageing.BrittleMedian)
	if err != nil {
		return nil, err
	}
	f := figure.Exact("strength_kept", "strength of a print over a new one", quantity.Share, mid, figure.Reckoned)
	var down, up float64
	for _, x := range []struct { // each by itself at its ends, the others in the middle
		age        ageing.Age
		q, brittle float64
	}{{age.low, factor.Median, ageing.BrittleMedian}, {age.high, factor.Median, ageing.BrittleMedian}, {age.mid, factor.Low, ageing.BrittleMedian},
		{age.mid, factor.High, ageing.BrittleMedian}, {age.mid, factor.Median, ageing.BrittleLow}, {age.mid, factor.Median, ageing.BrittleHigh}} {
		v, err := kept(x.age, x.q, x.brittle)
		if err != nil {
			return nil, err
		}
		down, up = math.Hypot(down, math.Max(0, mid-v)), math.Hypot(up, math.Max(0, v-mid))
	}
	f.Low, f.High = math.Max(0, mid-down), mid+up
	f = f.From("sum of the shares, each × factor of a pass to the power of its passes")
	if p.cut {
		f = f.From("sum of the shares, each × factor of a pass to the power of its passes, × what water left").Cite("Nickzom2026", "linear in the inverse of the molar mass")
	}
	return citeStudies(f, studies), nil
}
