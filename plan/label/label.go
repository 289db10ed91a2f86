// Package label says what stands on the sticker of a lot.
package label

import (
	"time"

	"hopperful/fact"
	"hopperful/plan/fit"
	"hopperful/shop"
)

// Label is what stands on a sticker: the lot's label large, the lines below it.
type Label struct {
	Lot   shop.LotID
	Lines []fact.Saying // the most important first
}

// Of is the sticker of a lot as it is now.
func Of(s *shop.State, id shop.LotID, now time.Time) (Label, error) {
	l, ok := s.Lot(id)
	if !ok {
		return Label{}, shop.Refuse(shop.NotFound, "lot", fact.Say("label.no_lot", fact.Name("lot", string(id))), fact.Say("label.do_lot"))
	}
	out := Label{Lot: id}
	out.Lines = append(out.Lines, fact.Say("label.what", fact.Name("polymer", l.Polymer), fact.Name("colour", l.Colour)))
	if bar := l.Bar(); bar != nil {
		out.Lines = append(out.Lines, fact.Say("label.barred"))
	}
	came := fact.Name("when", "")
	if r, ok := s.Record(l.Born); ok {
		came = fact.Moment("when", r.At)
	}
	out.Lines = append(out.Lines, fact.Say("label.mass", fact.Weighed("mass", l.Mass), came))
	if until, ok := dryUntil(s, l, now); ok {
		out.Lines = append(out.Lines, fact.Say("label.dry_until", fact.Moment("when", until)))
	}
	if l.Name != "" {
		out.Lines = append(out.Lines, fact.Say("label.name", fact.Name("name", l.Name)))
	}
	return out, nil
}

// dryUntil is until when what was dried is dry enough to melt, lying open in the
// room: the short end of the range. In a closed jar it is dry for longer.
func dryUntil(s *shop.State, l *shop.Lot, now time.Time) (time.Time, bool) {
	var dried *shop.Record
	for _, id := range l.Records {
		if r, ok := s.Record(id); ok {
			if _, is := r.Body.(*shop.Dried); is && (dried == nil || r.At.After(dried.At)) {
				dried = &r
			}
		}
	}
	if dried == nil || l.Polymer == "" || l.Bar() != nil {
		return time.Time{}, false
	}
	d, err := fit.Dry(s, fit.DryRequest{Lot: l.ID, Now: now})
	if err != nil || !(d.Open.Low > 0) {
		return time.Time{}, false // what hinders drying is told on the page of drying
	}
	after := dried.Body.(*shop.Dried).Time + d.Open.Low
	return dried.At.Add(time.Duration(after * float64(time.Second))), true
}
