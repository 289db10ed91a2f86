package reckon

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"hopperful/answer"
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
		return nil, &shop.Error{Code: shop.Invalid, Field: "colours", Say: "The heap is given twice, as colours and as lots.", Hint: "Give one of the two."}
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
		if _, err := r.swatch(fmt.Sprintf("part_%d", i+1), parts[i].name, parts[i].curve, parts[i].share); err != nil {
			return nil, err
		}
	}
	return parts, nil
}

// codeParts turns codes into parts; those of no share are left out, the same
// code twice is one.
func codeParts(list []colour.Portion) ([]heapPart, error) {
	if len(list) > colour.MostPortions {
		return nil, &shop.Error{Code: shop.Invalid, Field: "colours", Say: fmt.Sprintf("More than %d colours.", colour.MostPortions), Hint: "Take those together that look alike."}
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
		return nil, &shop.Error{Code: shop.Invalid, Field: "colours", Say: "All shares are 0.", Hint: "Give at least one colour a share."}
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
		return nil, &shop.Error{Code: shop.Invalid, Field: "lot", Say: "There is no shop whose lots these could be.", Hint: "Give colours with their shares, or a shop."}
	}
	if len(ids) > colour.MostPortions {
		return nil, &shop.Error{Code: shop.Invalid, Field: "lot", Say: fmt.Sprintf("More than %d lots.", colour.MostPortions), Hint: "Ask for a part of them."}
	}
	r.out.Words["looked"] = weighed
	var parts []heapPart
	var unseen, plastics []string
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
			r.note("Of %s nothing is left, so it is not in here.", answer.LotName(lot))
			continue
		}
		if name := answer.OrUnknown(lot.Polymer); !slices.Contains(plastics, name) {
			plastics = append(plastics, name)
		}
		part, missing, err := r.lotPart(tints, lot)
		if err != nil {
			return nil, err
		}
		if len(missing) > 0 {
			unseen = append(unseen, string(id))
			r.note("Nobody took the colour of %s, so %s is not in here: lay a piece beside a white card, take a photo and record its colour.", answer.List(missing), id)
			continue
		}
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		say := "Nothing is left of these lots."
		if len(unseen) > 0 {
			say = fmt.Sprintf("Nobody took the colour of %s.", answer.List(unseen))
		}
		return nil, &shop.Error{Code: shop.Invalid, Field: "lot", Say: say, Hint: "Lay a piece beside a white card, take a photo, and record the colour of the lot; or give colours with their shares."}
	}
	if len(plastics) > 1 {
		r.note("These lots are of different plastics (%s); they can be looked at together but not melted together.", answer.List(plastics))
	}
	return parts, nil
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
		text := fmt.Sprintf("%s tints %s times as strongly as the shop's middle (%s), by the colours of %d melted mixes.", x.Lot, x.Scatter.Shown(), x.Scatter.ShownRange(), x.Scatter.Runs)
		if !slices.Contains(r.learned, text) {
			r.learned = append(r.learned, text)
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
	c := answer.Chart{Key: "share", Title: "What the share of " + p.name + " does", XName: "share of " + p.name, YName: "lightness L*", XKind: quantity.Share, YKind: quantity.Number,
		XUnit: quantity.Share.SI(), YUnit: quantity.Number.SI(),
		Curves: []answer.Curve{answer.Band("melted", "melted into one", x, all), {Key: "streaks", Name: "side by side", X: x, Low: side, Mid: side, High: side}}}
	m := c.Curves[0].Mid
	c.Summary = fmt.Sprintf("Melted into one, the lightness goes from %.0f without it over %.0f with half of it to %.0f with nothing else; in this heap it is %s.", m[0], m[steps/2], m[steps], quantity.Share.Rough(p.share))
	r.out.Charts = append(r.out.Charts, c)
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
