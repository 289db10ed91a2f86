package reckon

// What a little colour concentrate does to a base, and how much of it a wanted
// colour needs.

import (
	"fmt"
	"math"
	"math/rand/v2"

	"hopperful/answer"
	"hopperful/process/colour"
	"hopperful/quantity"
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

var concentrateTopic = Topic{Key: "concentrate", Title: "A colour concentrate in a base", Question: "What does so much concentrate do, and how much of it does a colour need?", Model: "colour",
	Inputs: []Input{
		{Key: "base", Name: "colour of the base", Form: Code, Word: "#f2f2ee"},
		{Key: "concentrate", Name: "colour of the concentrate", Form: Code, Word: "#1e5aa8"},
		number("share", "concentrate in the mix", quantity.Share, 0.02, 0, mostTint),
		number("strength", "how strongly it tints against the base", quantity.Number, tintStrength, 0.1, 100),
		number("doubt", "factor by which that may be off, in eight of ten cases", quantity.Number, tintDoubt, 1, 10),
		{Key: "trial", Name: "colour of a trial: a known share of it in this base", Form: Code, Optional: "no trial was made"},
		number("trial_share", "concentrate in the trial", quantity.Share, 0.02, 1e-4, 0.5),
		{Key: "wanted", Name: "colour wanted", Form: Code, Word: "#8fb0d8"},
		within("colour difference that is near enough, ΔE00"),
		{Key: "taken", Name: "how the colours were taken", Word: byPhoto, Choices: []string{byPhoto, byInstrument}},
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
	r.answer("With %s of concentrate it becomes %s, %s from the base in the colour difference; %s.", quantity.Share.Plain(share), melted.Shown(), quantity.Number.Rough(base), need)
	r.note("Strong concentrates break this simple law: much pigment tints less than its share says, and unmixed grains leave specks. Make a small trial, take its colour, and enter it here.")
	if r.out.Words["taken"] == byPhoto {
		r.note("The ranges hold what a photo errs through its light, as judged; side by side in one photo the colours err less against each other.")
	}
	r.note("The carrier of the concentrate has to suit the plastic. Take granules: powder is dust, so keep it out of the air and wear a mask that holds fine dust.")
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
		return colour.Curve{}, r.bad(key, "%s", answer.Sentence(answer.Capital(err.Error())))
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
		key, name string
		curve     colour.Curve
		share     float64
	}{{"base", "base", t.base, 1 - share}, {"concentrate", "concentrate", t.added, share}, {"melted", "melted into one", mix, 0},
		{"streaks", "side by side, as streaks", side, 0}, {"wanted", "wanted", wanted, 0}} {
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
	const how = "mixed by Kubelka and Munk; strength and photos drawn as they are doubted"
	if r.out.Words["trial"] != "" {
		r.drawn("learned", "how strongly it tints, by the trial", quantity.Number, strength, "the strength whose mix looks most like the trial", "trial_share")
	}
	r.drawn("lightness", "lightness L*, melted into one", quantity.Number, light, how, "share", "strength", "doubt").Cite("KubelkaMunk1931", "")
	r.drawn("chroma", "chroma C*, melted into one", quantity.Number, chroma, how, "share", "strength", "doubt").Cite("KubelkaMunk1931", "")
	r.drawn("from_base", "colour difference from the base", quantity.Number, fromBase, "ΔE00 of the mix from the base", "share", "strength", "doubt").Cite("Sharma2005", "CIEDE2000")
	r.drawn("from_wanted", "colour difference from the wanted colour", quantity.Number, fromWanted, "ΔE00 of the mix from it", "share", "strength", "doubt").Cite("Sharma2005", "CIEDE2000")
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
	r.add("apart", "colour difference between melted into one and side by side", quantity.Number, apart, "ΔE00 of the two ends", "share").Cite("Sharma2005", "CIEDE2000")
	return answer.Quantile(fromBase, 0.5), nil
}

// tintNeed tells how much of it the wanted colour needs.
func (r *reckoning) tintNeed(t tint, draws []tint, wanted colour.Lab) (say string, err error) {
	limit := r.num("within")
	now, err := t.reach(wanted, limit)
	if err != nil {
		return "", err
	}
	var least, nearest, off []float64
	for _, d := range draws {
		one, err := d.reach(wanted, limit)
		if err != nil {
			return "", err
		}
		if one.Reached {
			least = append(least, one.Least)
		}
		nearest, off = append(nearest, one.Share), append(off, one.Off)
	}
	r.add("chance", "chance that some share comes within it", quantity.Share, float64(len(least))/float64(len(draws)), "share of the draws in which one up to 20 % does", "within")
	n := r.add("nearest", "share that comes nearest", quantity.Share, now.Share, "least ΔE00 over all shares up to 20 %", "strength", "doubt")
	n.Low, n.High = math.Min(now.Share, answer.Quantile(nearest, 0.1)), math.Max(now.Share, answer.Quantile(nearest, 0.9))
	o := r.add("nearest_off", "colour difference there", quantity.Number, now.Off, "ΔE00 of the nearest mix from the wanted colour", "strength", "doubt").Cite("Sharma2005", "CIEDE2000")
	o.Low, o.High = math.Min(now.Off, answer.Quantile(off, 0.1)), math.Max(now.Off, answer.Quantile(off, 0.9))
	c, err := t.mix(now.Share)
	if err != nil {
		return "", err
	}
	if _, err := r.swatch("nearest", "the nearest", c, now.Share); err != nil {
		return "", err
	}
	switch {
	case !now.Reached:
		return fmt.Sprintf("with this concentrate it does not come within %s of the wanted colour, %s comes nearest, %s from it", quantity.Number.Plain(limit), quantity.Share.Rough(now.Share), quantity.Number.Rough(now.Off)), nil
	case now.Least == 0:
		return fmt.Sprintf("the base is within %s of the wanted colour without any", quantity.Number.Plain(limit)), nil
	}
	f := r.add("needed", "least concentrate that comes within it", quantity.Share, now.Least, "smallest share whose mix is within the colour difference", "within", "strength", "doubt")
	f.Low, f.High = now.Least, now.Least
	if len(least) > 0 {
		f.Low, f.High = math.Min(f.Low, answer.Quantile(least, 0.1)), math.Max(f.High, answer.Quantile(least, 0.9))
	}
	return fmt.Sprintf("%s (%s) comes within %s of the wanted colour", quantity.Share.Rough(f.Value), quantity.Share.Span(f.Low, f.High), quantity.Number.Plain(limit)), nil
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
	base, want, l := answer.Band("base", "from the base", x, fromBase), answer.Band("wanted", "from the wanted colour", x, fromWanted), answer.Band("lightness", "lightness", x, light)
	chart := answer.Chart{XName: "concentrate", XKind: quantity.Share, YKind: quantity.Number, XUnit: quantity.Share.SI(), YUnit: quantity.Number.SI()}
	far, bright := chart, chart
	far.Key, far.Title, far.YName = "difference", "Colour difference over the share", "ΔE00"
	far.Curves, far.Lines = []answer.Curve{want, base}, []answer.Line{{Key: "within", Name: "near enough", Value: r.num("within")}}
	far.Summary = fmt.Sprintf("From the base 0 to %s at %s; from the wanted colour %s to %s.", quantity.Number.Rough(base.Mid[steps]), quantity.Share.Rough(end), quantity.Number.Rough(want.Mid[0]), quantity.Number.Rough(want.Mid[steps]))
	bright.Key, bright.Title, bright.YName, bright.Curves = "lightness", "Lightness over the share", "lightness L*", []answer.Curve{l}
	bright.Summary = fmt.Sprintf("From %.0f without concentrate to %.0f at %s.", l.Mid[0], l.Mid[steps], quantity.Share.Rough(end))
	r.out.Charts = append(r.out.Charts, far, bright)
	return nil
}
