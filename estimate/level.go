package estimate

import (
	"fmt"
	"math"

	"hopperful/quantity"
)

// The power at each level of a controller. A level's power scale has a normal
// score of its own, made of what all levels of the mill share and of what only
// this one does:
//
//	z = √s · z_shared + √(1 − s) · z_own
//
// so that each level alone is believed as its [Load] says, a run teaches its own
// level most, and the others as far as they have s in common.

// sharedPower is s, the share of the variance that all levels have in common.
// Judgement: what the label is wrong by is common to all, where the
// controller's steps lie is not, and nobody knows which is worse.
const sharedPower = 0.5

// mostLevels bounds the levels of a controller that a fit tells apart.
const mostLevels = 1000

// sharedPart is how much of the score at a level the shared variable makes.
// Without a controller there is one level, and nothing to tell apart.
func sharedPart(level int) float64 {
	if level < 1 {
		return 1
	}
	return math.Sqrt(sharedPower)
}

// phaseSpread is how far the exponent of the phase law may be off: the draw of an
// unmetered level goes with the law's share to the power 1 ± 0.5. Judgement: the
// law is that of a lamp; a motor slows, and its losses do not follow.
const phaseSpread = 0.5

// phase links the power scale at an unmetered level to the exponent of the phase
// law, which all levels share; false for a level it does not move.
func (l *ledger) phase(load Load) (link, bool) {
	if load.Level < 1 || !(load.Phase > 0) || load.Phase >= 1 {
		return link{}, false
	}
	c := phaseSpread * math.Log(load.Phase) * tail / math.Log(load.Spread)
	return link{variable: l.number("phase law"), param: PowerScale, c: c}, true
}

// own links the power scale at a level to what only this level does.
func (l *ledger) own(level int) link {
	return link{variable: l.number(fmt.Sprintf("power at %d", level)), param: PowerScale, c: math.Sqrt(1 - sharedPower)}
}

// at links the power scale at a level to its variables, its own last, or without a
// controller to its only one.
func (l *ledger) at(load Load) []link {
	all := []link{{variable: l.number(variableOf(PowerScale, "", "")), param: PowerScale, c: sharedPart(load.Level)}}
	if load.Level < 1 {
		return all
	}
	if exponent, ok := l.phase(load); ok {
		all = append(all, exponent)
	}
	return append(all, l.own(load.Level))
}

// A row drawn for a mill with a controller goes on beyond its parameters and the
// coefficients of the models' error with the power scale at level 1, 2, and so on.

// scaleAt is the power scale of a row at a level. A row of one run, or of a
// mill without a controller, has only one.
func scaleAt(row []float64, level int) float64 {
	if at := Params + Terms + level - 1; level > 0 && at < len(row) {
		return row[at]
	}
	return row[PowerScale]
}

// levelled appends the power scale at each level to a row.
func levelled(row []float64, b *Belief, levels [][]link, v []float64) []float64 {
	for _, links := range levels {
		z := 0.0
		for _, l := range links {
			z += l.c * v[l.variable]
		}
		row = append(row, b.at(z))
	}
	return row
}

// ScaleAt is what is believed of the power scale at a level after the records:
// the prior's where neither this level nor any other has taught anything. The
// runs behind it are those at this level, or where there are none those at
// other levels.
func (f *Fitted) ScaleAt(priors Beliefs, load Load) Belief {
	b := priors[PowerScale]
	if b.known() {
		return b
	}
	links := f.fit.ledger.asking().at(load)
	if f.spread == nil {
		return wider(b, links)
	}
	book := b
	f.believe(&b, links)
	if b.Runs == 0 {
		return wider(book, links)
	}
	if own := f.active(links[len(links)-1:]); b.Runs > 0 && len(own) > 0 {
		b.Records = f.tellers(own)
		b.Runs = len(b.Records)
	}
	return b
}

// BookScale is what is believed of it before any record.
func BookScale(priors Beliefs, load Load) Belief {
	return wider(priors[PowerScale], newLedger(nil).at(load))
}

// wider is a belief as several variables together scatter it.
func wider(b Belief, links []link) Belief {
	sum := 0.0
	for _, l := range links {
		sum += l.c * l.c
	}
	away := tail * math.Sqrt(sum)
	b.Low, b.High = b.at(-away), b.at(away)
	return b
}

// DrawnAt is what the mill is believed to take from the socket [W], for a power
// scale as [Fitted.ScaleAt] has it.
func DrawnAt(l Load, scale Belief) Belief {
	b := scale
	b.Key, b.Name, b.Kind = "power", "mill.power", quantity.Power
	if l.Level > 0 {
		b.Key, b.Name, b.About = fmt.Sprintf("power_at_%d", l.Level), "mill.power_at", fmt.Sprint(l.Level)
	}
	b.Median, b.Low, b.High = l.scaled(scale.Median), l.scaled(scale.Low), l.scaled(scale.High)
	return b
}

// ScaleMovers lists the records that moved the power scale at a level most, as
// [Fitted.Movers] does.
func (f *Fitted) ScaleMovers(load Load, most int) []Moved {
	if f.spread == nil {
		return nil
	}
	return f.movers(f.active(f.fit.ledger.asking().at(load)), most)
}

// active sums links up by the places of their active variables.
func (f *Fitted) active(links []link) map[int]float64 {
	c := map[int]float64{}
	for _, l := range links {
		if at, ok := f.fit.place[l.variable]; ok {
			c[at] += l.c
		}
	}
	return c
}
