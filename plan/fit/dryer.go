package fit

// The one answer to "how to dry this": by the dryers the shop has.

import (
	"fmt"
	"time"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/quantity"
	"hopperful/shop"
)

// DryWith is what one dryer would take.
type DryWith struct {
	Dryer       string        `json:"dryer,omitempty"` // its name; empty: a kind nobody has described
	Way         shop.Way      `json:"way"`
	Possible    bool          `json:"possible"`
	Temperature figure.Figure `json:"temperature"`
	Time        figure.Figure `json:"time"` // in it; plan for the high end
	Says        string        `json:"says"`
}

// Dry says how to dry a lot or a polymer: with the dryer asked for, else with the
// one of the shop's that does it soonest, else with each kind there is. A dryer
// that is too hot, too humid or too deeply filled is an answer with the reason and
// the remedy.
func Dry(s *shop.State, req DryRequest) (Drying, error) {
	dryers := dryersFor(s, req)
	var best *Drying
	var all []DryWith
	for _, with := range dryers {
		d, err := dryWith(s, req, with)
		if err != nil {
			return d, err
		}
		all = append(all, DryWith{Dryer: with.Name, Way: with.Way, Possible: d.Possible, Temperature: d.Temperature, Time: d.Time, Says: d.Answer})
		if best == nil || d.Possible && (!best.Possible || d.Time.Value < best.Time.Value) {
			best = &d
		}
		if d.Blocked != nil && d.barred || d.Possible && !d.Needed {
			break // no dryer changes that
		}
	}
	best.With = []DryWith{}
	if !best.Needed || len(dryers) < 2 {
		return *best, nil
	}
	best.With = all
	if dryers[0].Name == "" {
		best.Assumed = true
		best.Spoilers = append([]answer.Spoiler{best.whichDryer()}, best.Spoilers...)
	}
	return *best, nil
}

// whichDryer asks which dryer the shop has, and says what each kind would take.
func (d *Drying) whichDryer() answer.Spoiler {
	var each []string
	for _, w := range d.With {
		if w.Possible {
			each = append(each, fmt.Sprintf("%s %s at %s", WayWords[w.Way], quantity.Duration.Rough(w.Time.High), w.Temperature.Shown()))
		} else {
			each = append(each, WayWords[w.Way]+" not at all")
		}
	}
	return answer.Spoiler{What: fmt.Sprintf("No dryer is described here, so this is said for the quickest kind. It takes %s.", answer.List(each)),
		Remedy: "Describe the dryer you have among the machines; from then on this is answered for it."}
}

// dryersFor are the dryers a request is answered for.
func dryersFor(s *shop.State, req DryRequest) []shop.Dryer {
	var all []shop.Dryer
	for _, d := range s.Dryers {
		if !d.Retired && (req.Way == "" || d.Way == req.Way) {
			all = append(all, d)
		}
	}
	switch {
	case len(all) > 0 && req.Way != "":
		return all[:1]
	case len(all) > 0:
		return all
	case req.Way != "":
		return []shop.Dryer{{Way: req.Way}}
	}
	for _, way := range ways {
		all = append(all, shop.Dryer{Way: way})
	}
	return all
}

// dryWith answers for one dryer; what the request says goes before what the dryer
// is described as.
func dryWith(s *shop.State, req DryRequest, with shop.Dryer) (Drying, error) {
	req.Way = with.Way
	for _, x := range []struct{ into, of **float64 }{{&req.Bed, &with.Bed}, {&req.Flow, &with.Flow}, {&req.DewPoint, &with.DewPoint}, {&req.Humidity, &with.Humidity}} {
		if *x.into == nil {
			*x.into = *x.of
		}
	}
	j, err := newDryJob(s, req)
	if err != nil {
		return Drying{}, err
	}
	j.with = with
	if bar := j.barred(); bar != nil {
		d := j.cannot(answer.Barred(bar))
		d.barred = true
		return d, nil
	}
	if err := j.prepare(); err != nil {
		return Drying{}, err
	}
	d, err := j.plan()
	d.Dryer = with.Name
	return d, err
}

// Instruction is the answer as one line for other rooms: what to set, for how
// long; empty where there is nothing to do.
func (d Drying) Instruction() string {
	switch {
	case !d.Needed && d.Possible:
		return ""
	case d.Possible:
		return fmt.Sprintf("Dry it %s at %s for %s, spread no deeper than %s, and keep it closed afterwards.", d.where(), d.Temperature.Shown(),
			quantity.Duration.Rough(d.Time.High), d.Depth.Shown())
	}
	return fmt.Sprintf("It cannot be dried %s: %s %s", d.where(), d.Blocked.Why, d.Blocked.Nearest)
}

// where names the dryer in a sentence.
func (d Drying) where() string {
	if d.Dryer == "" {
		return WayWords[d.Way]
	}
	return WayWords[d.Way] + answer.Named(d.Dryer)
}

// DryingOf is how the shop dries a kilogram of a plastic, as one line; empty where
// there is nothing to do, or it is barred.
func DryingOf(s *shop.State, plastic string, now time.Time) string {
	if shop.BarOf(plastic) != nil {
		return ""
	}
	d, err := Dry(s, DryRequest{Polymer: plastic, Now: now})
	if err != nil {
		return ""
	}
	return d.Instruction()
}
