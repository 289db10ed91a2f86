package reckon

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/traceability"
	"hopperful/process/colour"
	"hopperful/quantity"
	"hopperful/shop"
)

// parts are the colours of the heap, from codes or from lots.
func (r *reckoning) parts() ([]heapPart, error) {
	lots, typed := r.given.Lots["lot"], r.given.Colours["colours"]
	var parts []heapPart
	var err error
	switch {
	case len(lots) > 0 && len(typed) > 0:
		return nil, shop.Refuse(shop.Invalid, "colours", fact.Say("reckon.given_twice"), fact.Say("reckon.give_one"))
	case len(lots) > 0:
		parts, err = r.lotParts(lots)
	default:
		if len(typed) == 0 {
			in := r.topic.Inputs[slices.IndexFunc(r.topic.Inputs, func(in Input) bool { return in.Key == "colours" })]
			if typed, err = colour.ParsePortions(in.Word); err != nil {
				return nil, err
			}
			r.out.Words["colours"] = in.Word
		}
		parts, err = codeParts(typed)
	}
	if err != nil {
		return nil, err
	}
	whole := 0.0
	for _, p := range parts {
		whole += p.share
	}
	for i := range parts {
		parts[i].share /= whole
		if _, err := r.swatch(fmt.Sprintf("part_%d", i+1), fact.Say("swatch.part", fact.Name("name", parts[i].name)), parts[i].curve, parts[i].share); err != nil {
			return nil, err
		}
	}
	return parts, nil
}

// codeParts turns codes into parts; those of no share are left out, the same
// code twice is one.
func codeParts(list []colour.Portion) ([]heapPart, error) {
	if len(list) > colour.MostPortions {
		return nil, shop.Refuse(shop.Invalid, "colours", fact.Say("reckon.most_colours", fact.Count("n", colour.MostPortions)), fact.Say("reckon.take_together"))
	}
	var parts []heapPart
	for _, p := range list {
		code, _ := p.Colour.Hex()
		if i := slices.IndexFunc(parts, func(x heapPart) bool { return x.name == code }); i >= 0 {
			parts[i].share += p.Weight
			continue
		}
		if !(p.Weight > 0) {
			continue
		}
		curve, lifted, err := colour.FromPhoto(p.Colour)
		if err != nil {
			return nil, err
		}
		part, err := partOf(code, curve, p.Weight)
		if err != nil {
			return nil, err
		}
		part.lifted = lifted > 0
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		return nil, shop.Refuse(shop.Invalid, "colours", fact.Say("reckon.no_shares"), fact.Say("reckon.give_share"))
	}
	return parts, nil
}

func partOf(name string, curve colour.Curve, share float64) (heapPart, error) {
	look, err := colour.LookOf(curve)
	return heapPart{name: name, curve: curve, look: look, share: share, strength: 1, doubt: traceability.PriorScatter}, err
}

// lotParts turns lots into parts by what is left of them; a lot nobody took the
// colour of is left out and named.
func (r *reckoning) lotParts(ids []shop.LotID) ([]heapPart, error) {
	if r.given.Shop == nil {
		return nil, shop.Refuse(shop.Invalid, "lot", fact.Say("reckon.no_shop"), fact.Say("reckon.give_colours"))
	}
	if len(ids) > colour.MostPortions {
		return nil, shop.Refuse(shop.Invalid, "lot", fact.Say("reckon.most_lots", fact.Count("n", colour.MostPortions)), fact.Say("reckon.ask_part"))
	}
	r.out.Words["looked"] = weighed
	var parts []heapPart
	var unseen, named []string
	var plastics []fact.Saying
	tints := traceability.NewTinter(r.given.Shop)
	for i, id := range ids {
		lot, ok := r.given.Shop.Lot(id)
		switch {
		case !ok:
			return nil, shop.NoLot("lot", id)
		case slices.Contains(ids[:i], id):
			continue
		case lot.Bar() != nil && lot.Bar().Code != shop.BarUnknown: // what nobody knows may be looked at, in a heap, and is found out then
			return nil, lot.Bar().Refusal("lot")
		case !(lot.Mass > 0):
			r.note(fact.Say("reckon.lot_empty", answer.Lot("lot", lot)))
			continue
		}
		if !slices.Contains(named, lot.Polymer) {
			named, plastics = append(named, lot.Polymer), append(plastics, plasticOf(lot))
		}
		part, missing, err := r.lotPart(tints, lot)
		if err != nil {
			return nil, err
		}
		if len(missing) > 0 {
			unseen = append(unseen, string(id))
			r.note(fact.Say("reckon.uncoloured", fact.Names("lots", missing), answer.Lot("lot", lot)))
			continue
		}
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		what := fact.Say("reckon.all_empty")
		if len(unseen) > 0 {
			what = fact.Say("reckon.all_uncoloured", fact.Names("lots", unseen))
		}
		return nil, shop.Refuse(shop.Invalid, "lot", what, fact.Say("reckon.take_colour"))
	}
	if len(plastics) > 1 {
		r.note(fact.Say("reckon.different_plastics", fact.Parts("plastics", plastics...)))
	}
	return parts, nil
}

// plasticOf names what a lot is of.
func plasticOf(lot *shop.Lot) fact.Saying {
	if lot.Polymer == "" {
		return fact.Say("reckon.unnamed_plastic")
	}
	return fact.Verbatim(lot.Polymer)
}

// lotPart is a lot with its colour; missing are the lots whose colour has to be
// taken first.
func (r *reckoning) lotPart(tints *traceability.Tinter, lot *shop.Lot) (part heapPart, missing []string, err error) {
	c, err := tints.ColourOf(lot.ID)
	if err != nil {
		return part, nil, err
	}
	if c.Mixed == nil {
		for _, id := range c.Missing {
			missing = append(missing, string(id))
		}
		return part, missing, nil
	}
	var curve colour.Curve
	copy(curve[:], c.Mixed.Curve)
	for i, v := range curve { // a band no surface can show has no body
		curve[i] = min(colour.PhotoWhitest, max(colour.PhotoDarkest, v))
	}
	part, err = partOf(string(lot.ID), curve, lot.Mass)
	part.tinting(c.Parts)
	for _, x := range c.Parts {
		if x.Scatter.Runs == 0 {
			continue
		}
		if !slices.ContainsFunc(r.learned, func(s fact.Saying) bool { return s.Text("lot") == string(x.Lot) }) {
			r.learned = append(r.learned, fact.Say("colour.tints", fact.Lot("lot", string(x.Lot), ""), fact.Figure("times", x.Scatter), fact.Count("n", x.Scatter.Runs)))
		}
	}
	return part, nil, err
}

// tinting takes how strongly a lot tints from the lots of known colour it is made
// of: their mean by mass, with the widest doubt of any.
func (p *heapPart) tinting(of []traceability.ColourPart) {
	strength, whole, doubt := 0.0, 0.0, 0.0
	for _, x := range of {
		strength, whole = strength+x.Share*x.Scatter.Value, whole+x.Share
		doubt = max(doubt, math.Log(x.Scatter.High/x.Scatter.Low)/2/answer.Ninety)
	}
	if whole > 0 {
		p.strength, p.doubt = strength/whole, doubt
	}
}

// shareChart draws what the share of one part does to the lightness, the others
// staying as they are to each other.
func (r *reckoning) shareChart(parts []heapPart, which int) error {
	if len(parts) < 2 {
		return nil
	}
	const steps, draws = 24, 120
	p := parts[which]
	x, all, side := make([]float64, steps+1), answer.Moments(steps+1, draws), make([]float64, steps+1)
	for i := range x {
		x[i] = float64(i) / steps
		mix := slices.Clone(parts)
		for j := range mix {
			mix[j].share *= (1 - x[i]) / (1 - p.share)
		}
		mix[which].share = x[i]
		h := heapOf(mix, 1e6, draws)
		labs, err := colour.DrawLabs(h, rand.New(rand.NewPCG(36, 3)))
		if err != nil {
			return err
		}
		for k, lab := range labs {
			all[i][k] = lab.L
		}
		if side[i], err = sideLightness(h); err != nil {
			return err
		}
	}
	melted := answer.Band("melted", "swatch.melted", x, all)
	at := func(name string, i int) fact.Fact { return fact.About(name, quantity.Number, melted.Mid[i]) }
	r.chart(answer.Chart{Key: "share", XName: "axis.its_share", YName: "axis.lightness", XKind: quantity.Share, YKind: quantity.Number,
		Curves:  []answer.Curve{melted, {Key: "streaks", Name: "line.side_by_side", X: x, Low: side, Mid: side, High: side}},
		Summary: "reckon.share_does", Facts: []fact.Fact{fact.Name("name", p.name), at("none", 0), at("half", steps/2), at("all", steps), fact.About("share", quantity.Share, p.share)}})
	return nil
}

func sideLightness(h colour.Heap) (float64, error) {
	var curves []colour.Curve
	var shares []float64
	for _, p := range h.Parts {
		curves, shares = append(curves, p.Colour), append(shares, p.Share)
	}
	c, err := colour.Unmixed(curves, shares)
	if err != nil {
		return 0, err
	}
	lab, err := colour.LabOf(c, colour.TwoDegrees)
	return lab.L, err
}
