package reckon

// What a little colour concentrate does to a base, and how much of it a wanted
// colour needs.

import (
	"math"
	"math/rand/v2"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/process/colour"
	"hopperful/quantity"
	"hopperful/shop"
)

// How a colour was taken, and what is drawn for it. Judgement: exposure and the
// colour of the light move a photo's light by a fifth and a tenth, which makes
// most of the 5 to 10 a photo errs in the colour difference.
const (
	byPhoto      = "photo"
	byInstrument = "instrument"
	photoLevel   = 0.2 // [ln] standard deviation of the light in all bands
	photoTilt    = 0.1 // [ln] the same between the middle and either end
	tintDraws    = 120
	mostTint     = 0.2 // as much concentrate as anybody adds
	usualTint    = 0.08
	tintStrength = 10 // judgement: a fifth to a half of it is pigment, against a few percent in a coloured plastic
	tintDoubt    = 3
)

var concentrateTopic = Topic{Key: "concentrate", Model: "colour",
	Inputs: []Input{
		code("base", "#f2f2ee", ""),
		code("concentrate", "#1e5aa8", ""),
		number("share", quantity.Share, 0.02, 0, mostTint),
		number("strength", quantity.Number, tintStrength, 0.1, 100),
		number("doubt", quantity.Number, tintDoubt, 1, 10),
		code("trial", "", "given.no_trial"),
		number("trial_share", quantity.Share, 0.02, 1e-4, 0.5),
		code("wanted", "#8fb0d8", ""),
		within().named("given.near_enough"),
		word("taken", byPhoto, byInstrument),
	}, reckon: reckonConcentrate}

// tint is a base, a concentrate and how strongly it tints, as they are or as
// they may truly be.
type tint struct {
	base, added colour.Curve
	strength    float64
	trial       *colour.Curve // the let-down that tells the strength
}

func reckonConcentrate(r *reckoning) error {
	t, wanted, err := r.tint()
	if err != nil {
		return err
	}
	if err := t.learn(r.num("trial_share")); err != nil {
		return err
	}
	share := r.num("share")
	mix, err := t.mix(share)
	if err != nil {
		return err
	}
	side, err := colour.Unmixed([]colour.Curve{t.base, t.added}, []float64{1 - share, share})
	if err != nil {
		return err
	}
	melted, err := r.tintSwatches(t, mix, side, share)
	if err != nil {
		return err
	}
	draws, err := r.drawTints(t)
	if err != nil {
		return err
	}
	base, err := r.tintFigures(draws, wanted, share, mix, side)
	if err != nil {
		return err
	}
	need, err := r.tintNeed(t, draws, wanted)
	if err != nil {
		return err
	}
	r.answer(fact.Say("reckon.tinted", fact.Set("share", quantity.Share, share), melted.fact("colour"), fact.About("off", quantity.Number, base), fact.Parts("need", need)))
	r.note(fact.Say("reckon.strong_tint"))
	if r.out.Words["taken"] == byPhoto {
		r.note(fact.Say("reckon.photo_ranges"))
	}
	r.note(fact.Say("reckon.carrier"))
	return r.tintCharts(draws, wanted)
}

// tint reads the colours.
func (r *reckoning) tint() (t tint, wanted colour.Lab, err error) {
	t.strength = r.num("strength")
	for _, one := range []struct {
		key  string
		into *colour.Curve
	}{{"base", &t.base}, {"concentrate", &t.added}} {
		if *one.into, err = r.curveOf(one.key); err != nil {
			return t, wanted, err
		}
	}
	if r.out.Words["trial"] != "" {
		c, err := r.curveOf("trial")
		if err != nil {
			return t, wanted, err
		}
		t.trial = &c
	}
	c, err := r.curveOf("wanted")
	if err != nil {
		return t, wanted, err
	}
	wanted, err = colour.LabOf(c, colour.TwoDegrees)
	return t, wanted, err
}

// curveOf is the curve of a code it was asked with.
func (r *reckoning) curveOf(key string) (colour.Curve, error) {
	rgb, err := colour.ParseHex(r.out.Words[key])
	if err != nil {
		return colour.Curve{}, shop.Refused(shop.Invalid, key, err)
	}
	c, _, err := colour.FromPhoto(rgb)
	return c, err
}

// learn takes the strength from the trial, where there is one.
func (t *tint) learn(share float64) error {
	if t.trial == nil {
		return nil
	}
	base, err := colour.BodyOf(t.base, 1, colour.PhotoSurface())
	if err != nil {
		return err
	}
	seen, err := colour.LabOf(*t.trial, colour.TwoDegrees)
	if err != nil {
		return err
	}
	t.strength, _, err = colour.LearnScatter(base, t.added, share, seen, colour.PhotoSurface())
	return err
}

// bodies are base and concentrate against one scattering.
func (t tint) bodies() (base, added colour.Body, err error) {
	if base, err = colour.BodyOf(t.base, 1, colour.PhotoSurface()); err != nil {
		return base, added, err
	}
	added, err = colour.BodyOf(t.added, t.strength, colour.PhotoSurface())
	return base, added, err
}

// mix is the melt with a share of concentrate.
func (t tint) mix(share float64) (colour.Curve, error) {
	base, added, err := t.bodies()
	if err != nil {
		return colour.Curve{}, err
	}
	return colour.Mixed([]colour.Body{base, added}, []float64{1 - share, share}, colour.PhotoSurface())
}

// lab is how it looks.
func (t tint) lab(share float64) (colour.Lab, error) {
	c, err := t.mix(share)
	if err != nil {
		return colour.Lab{}, err
	}
	return colour.LabOf(c, colour.TwoDegrees)
}

// tintSwatches shows all colours that are spoken of.
func (r *reckoning) tintSwatches(t tint, mix, side colour.Curve, share float64) (melted Swatch, err error) {
	wanted, err := r.curveOf("wanted")
	if err != nil {
		return melted, err
	}
	for _, s := range []struct {
		key   string
		name  fact.Saying
		curve colour.Curve
		share float64
	}{{"base", fact.Say("swatch.base"), t.base, 1 - share}, {"concentrate", fact.Say("swatch.concentrate"), t.added, share}, {"melted", fact.Say("swatch.melted"), mix, 0},
		{"streaks", fact.Say("swatch.streaks"), side, 0}, {"wanted", fact.Say("swatch.wanted"), wanted, 0}} {
		shown, err := r.swatch(s.key, s.name, s.curve, s.share)
		if err != nil {
			return melted, err
		}
		if s.key == "melted" {
			melted = shown
		}
	}
	return melted, nil
}

// drawTints draws what base, concentrate and strength may truly be.
func (r *reckoning) drawTints(t tint) ([]tint, error) {
	luck := rand.New(rand.NewPCG(36, 5))
	off := func(c colour.Curve) colour.Curve {
		if r.out.Words["taken"] != byPhoto {
			return c
		}
		level, tilt := photoLevel*luck.NormFloat64(), photoTilt*luck.NormFloat64()
		for i, v := range c {
			at := 2*float64(i)/(colour.Bands-1) - 1
			c[i] = math.Min(math.Max(v*math.Exp(level+tilt*at), colour.PhotoDarkest), colour.PhotoWhitest)
		}
		return c
	}
	all := make([]tint, tintDraws)
	for i := range all {
		d := tint{base: off(t.base), added: off(t.added)}
		if t.trial != nil {
			trial := off(*t.trial)
			d.trial = &trial
			if err := d.learn(r.num("trial_share")); err != nil {
				return nil, err
			}
		} else {
			d.strength = math.Min(math.Max(t.strength*math.Pow(r.num("doubt"), luck.NormFloat64()/answer.Ninety), 1e-3), 1e3)
		}
		all[i] = d
	}
	return all, nil
}

// tintFigures tells what this share does, and how far that is from the base.
func (r *reckoning) tintFigures(draws []tint, wanted colour.Lab, share float64, mix, side colour.Curve) (base float64, err error) {
	var light, chroma, fromBase, fromWanted, strength []float64
	for _, d := range draws {
		lab, err := d.lab(share)
		if err != nil {
			return 0, err
		}
		pure, err := colour.LabOf(d.base, colour.TwoDegrees)
		if err != nil {
			return 0, err
		}
		b, err := colour.Difference(pure, lab)
		if err != nil {
			return 0, err
		}
		w, err := colour.Difference(wanted, lab)
		if err != nil {
			return 0, err
		}
		light, chroma, strength = append(light, lab.L), append(chroma, lab.Chroma()), append(strength, d.strength)
		fromBase, fromWanted = append(fromBase, b), append(fromWanted, w)
	}
	if r.out.Words["trial"] != "" {
		r.drawn("learned", quantity.Number, strength, "trial_share")
	}
	r.drawn("lightness", quantity.Number, light, "share", "strength", "doubt").Cite("KubelkaMunk1931", "")
	r.drawn("chroma", quantity.Number, chroma, "share", "strength", "doubt").Cite("KubelkaMunk1931", "")
	r.drawn("from_base", quantity.Number, fromBase, "share", "strength", "doubt").Cite("Sharma2005", "CIEDE2000")
	r.drawn("from_wanted", quantity.Number, fromWanted, "share", "strength", "doubt").Cite("Sharma2005", "CIEDE2000")
	m, err := colour.LookOf(mix)
	if err != nil {
		return 0, err
	}
	s, err := colour.LookOf(side)
	if err != nil {
		return 0, err
	}
	apart, err := colour.Difference(m.Lab, s.Lab)
	if err != nil {
		return 0, err
	}
	r.add("apart", quantity.Number, apart, "share").Cite("Sharma2005", "CIEDE2000")
	return answer.Quantile(fromBase, 0.5), nil
}

// tintNeed tells how much of it the wanted colour needs.
func (r *reckoning) tintNeed(t tint, draws []tint, wanted colour.Lab) (need fact.Saying, err error) {
	limit := r.num("within")
	now, err := t.reach(wanted, limit)
	if err != nil {
		return need, err
	}
	var least, nearest, off []float64
	for _, d := range draws {
		one, err := d.reach(wanted, limit)
		if err != nil {
			return need, err
		}
		if one.Reached {
			least = append(least, one.Least)
		}
		nearest, off = append(nearest, one.Share), append(off, one.Off)
	}
	r.add("chance", quantity.Share, float64(len(least))/float64(len(draws)), "within")
	n := r.add("nearest", quantity.Share, now.Share, "strength", "doubt")
	n.Low, n.High = math.Min(now.Share, answer.Quantile(nearest, 0.1)), math.Max(now.Share, answer.Quantile(nearest, 0.9))
	o := r.add("nearest_off", quantity.Number, now.Off, "strength", "doubt").Cite("Sharma2005", "CIEDE2000")
	o.Low, o.High = math.Min(now.Off, answer.Quantile(off, 0.1)), math.Max(now.Off, answer.Quantile(off, 0.9))
	c, err := t.mix(now.Share)
	if err != nil {
		return need, err
	}
	if _, err := r.swatch("nearest", fact.Say("swatch.nearest"), c, now.Share); err != nil {
		return need, err
	}
	within := fact.Set("within", quantity.Number, limit)
	switch {
	case !now.Reached:
		return fact.Say("reckon.not_reached", within, fact.About("share", quantity.Share, now.Share), fact.About("off", quantity.Number, now.Off)), nil
	case now.Least == 0:
		return fact.Say("reckon.base_is_near", within), nil
	}
	f := r.add("needed", quantity.Share, now.Least, "within", "strength", "doubt")
	f.Low, f.High = now.Least, now.Least
	if len(least) > 0 {
		f.Low, f.High = math.Min(f.Low, answer.Quantile(least, 0.1)), math.Max(f.High, answer.Quantile(least, 0.9))
	}
	return fact.Say("reckon.reached", fact.Figure("share", *f.Figure), within), nil
}

func (t tint) reach(wanted colour.Lab, limit float64) (colour.Reach, error) {
	base, added, err := t.bodies()
	if err != nil {
		return colour.Reach{}, err
	}
	return colour.ReachOf(base, added, wanted, limit, mostTint, colour.PhotoSurface())
}

// tintCharts draws difference and lightness over the share.
func (r *reckoning) tintCharts(draws []tint, wanted colour.Lab) error {
	const steps = 32
	end := math.Max(usualTint, math.Min(mostTint, 1.5*r.num("share")))
	x := make([]float64, steps+1)
	fromBase, fromWanted, light := answer.Moments(steps+1, len(draws)), answer.Moments(steps+1, len(draws)), answer.Moments(steps+1, len(draws))
	for k, d := range draws {
		pure, err := d.lab(0)
		if err != nil {
			return err
		}
		for i := range x {
			x[i] = end * float64(i*i) / (steps * steps) // the first grains do most
			lab, err := d.lab(x[i])
			if err != nil {
				return err
			}
			if fromBase[i][k], err = colour.Difference(pure, lab); err != nil {
				return err
			}
			if fromWanted[i][k], err = colour.Difference(wanted, lab); err != nil {
				return err
			}
			light[i][k] = lab.L
		}
	}
	base, want, l := answer.Band("base", "line.from_base", x, fromBase), answer.Band("wanted", "line.from_wanted", x, fromWanted), answer.Band("lightness", "axis.lightness", x, light)
	at := func(name string, v float64) fact.Fact { return fact.About(name, quantity.Number, v) }
	share := fact.About("share", quantity.Share, end)
	r.chart(answer.Chart{Key: "difference", XName: "axis.concentrate", YName: "ΔE00", XKind: quantity.Share, YKind: quantity.Number,
		Curves: []answer.Curve{want, base}, Lines: []answer.Line{{Key: "within", Name: "line.near_enough", Value: r.num("within")}},
		Summary: "reckon.differences", Facts: []fact.Fact{share, at("base", base.Mid[steps]), at("first", want.Mid[0]), at("last", want.Mid[steps])}})
	r.chart(answer.Chart{Key: "lightness", XName: "axis.concentrate", YName: "axis.lightness", XKind: quantity.Share, YKind: quantity.Number, Curves: []answer.Curve{l},
		Summary: "reckon.lightness", Facts: []fact.Fact{share, at("first", l.Mid[0]), at("last", l.Mid[steps])}})
	return nil
}
