package blend

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/consumption"
	"hopperful/plan/fit"
	"hopperful/plan/traceability"
	"hopperful/polymer"
	"hopperful/process/colour"
	"hopperful/process/recipe"
	"hopperful/quantity"
	"hopperful/shop"
)

// blendJob is a blend on its way to a [Blending].
type blendJob struct {
	req     Request
	ctx     context.Context
	shelf   *Shelf
	state   *shop.State
	table   *polymer.Table
	polymer polymer.Polymer
	word    string              // colour the lots must be called, empty: any
	wanted  *traceability.Shade // colour wanted
	within  float64             // of it
	mass    float64             // to blend, in whole steps [kg]
	need    figure.Figure
	lots    []blendLot
	aside   []answer.Aside
	rows    []blendRow
	problem recipe.Problem
	notes   []fact.Saying
	strays  []answer.Finding // what other plastics do to it
	brings  *fit.Brings
}

// blendRow is one limit on a mean of the blend.
type blendRow struct {
	key, name string // the name is a code
	about     string // what it is filled with; may be empty
	kind      quantity.Kind
	relax     float64 // how far a relaxation that is told goes [the row's unit]
	logs      bool    // the row is in logarithms
	recipe.Limit
}

// what is the row in words, as a fact.
func (r blendRow) what() fact.Fact {
	return fact.Parts("what", fact.Saying{Code: r.name, Facts: []fact.Fact{fact.Name("about", r.about)}})
}

// Find finds the lots and masses for a need. "No recipe" is an answer, not an
// error.
func Find(s *shop.State, req Request) (Blending, error) {
	h, err := NewShelf(s)
	if err != nil {
		return Blending{}, err
	}
	return h.Find(context.Background(), req)
}

// Find is the package's Find of a shelf that may be known already; ctx ends it
// early.
func (h *Shelf) Find(ctx context.Context, req Request) (Blending, error) {
	j := &blendJob{req: req, ctx: ctx, shelf: h, state: h.state}
	for _, step := range []func() error{j.start, j.amount, j.gather, j.pose} {
		if err := step(); err != nil {
			return Blending{}, err
		}
	}
	b := Blending{Polymer: j.polymer.Name, NeedName: req.Need.Name, Order: j.req.Order, Wanted: j.wanted, Need: j.need,
		Aside: j.aside}
	if len(j.lots) == 0 {
		j.nothing(&b)
		return b, j.whyNot(&b, nil)
	}
	found, err := recipe.Solve(ctx, j.problem, j.options())
	if err != nil {
		return b, fmt.Errorf("blend for %s: %w", req.Need.Name, err)
	}
	b.Proved = found.Proved
	if len(found.Recipes) == 0 {
		err = j.none(&b, found)
	} else {
		err = j.report(&b, found)
	}
	b.Notes, b.Spoilers = append(b.Notes, j.notes...), append(j.strays, b.Spoilers...)
	return b, err
}

// How far a search goes that shall answer at once: about a tenth of a second of
// work with a thousand lots, and no further than anybody sees. Judgement.
const (
	soonNodes  = 200
	soonGap    = 1e-3 // of the cost
	unseenTint = 0.1  // colour difference
)

// options is how the recipes are sought.
func (j *blendJob) options() recipe.Options {
	if j.req.Soon {
		return j.oneSoon()
	}
	return recipe.Options{}
}

// oneSoon is how one recipe is sought soon.
func (j *blendJob) oneSoon() recipe.Options {
	o := recipe.Options{Recipes: 1, Nodes: soonNodes, Gap: soonGap}
	if j.req.Order == NearestColour {
		o.Near = unseenTint
	}
	return o
}

// start reads the request.
func (j *blendJob) start() error {
	var err error
	if j.table, err = j.state.Table(); err != nil {
		return err
	}
	name := j.req.Polymer
	if name == "" {
		name = j.req.Need.Polymer
	}
	name, only := consumption.PlasticOf(j.state, name)
	if name == "" || name == polymer.Unknown {
		return consumption.WhichPlastic(j.state)
	}
	if only {
		taken := answer.OnlyPlastic(name)
		j.note(taken.Saying)
		j.note(taken.Remedies[0])
	}
	if j.polymer, err = j.table.Find(name); err != nil {
		return shop.Refused(shop.Invalid, "polymer", err)
	}
	if bar := shop.BarOf(j.polymer.Name); bar != nil {
		return bar.Refusal("polymer")
	}
	if j.req.Order == "" {
		j.req.Order = OldFirst
	}
	if !slices.Contains(Orders(), j.req.Order) {
		return shop.Refuse(shop.Invalid, "order", fact.Say("blend.no_order", fact.Name("order", string(j.req.Order))), fact.Say("blend.orders"))
	}
	if j.req.MostLots == 0 {
		j.req.MostLots = blendMost
	}
	for _, id := range slices.Concat(j.req.Lots, j.req.Without, j.req.WhyNot) {
		if _, ok := j.state.Lot(id); !ok {
			return shop.NoLot("lot", id)
		}
	}
	if err := j.bounds(); err != nil {
		return err
	}
	return j.colour()
}

// bounds refuses limits that cannot be meant.
func (j *blendJob) bounds() error {
	r := j.req
	for _, x := range []struct {
		field, name string
		kind        quantity.Kind
		value       *float64
		lo, hi      float64
	}{
		{"within", "blend.colour_difference", quantity.Number, r.WithinDE, 0.1, 100}, {"reserve", "blend.reserve", quantity.Share, r.Reserve, 0, 2},
		{"mean_age", "blend.mean_passes", quantity.Number, r.MeanAge, 0, 1000}, {"oldest", "blend.passes", quantity.Number, r.OldestAge, 0, 1000},
		{"fines", "blend.dust", quantity.Share, r.Fines, 0, 1},
		{"moisture", "blend.water", quantity.Share, r.Moisture, 1e-6, 0.1}, {"metal", "blend.metal", quantity.Share, r.Metal, 1e-9, 0.1}, {"flow_low", "blend.melt_flow", quantity.MeltFlow, r.FlowLow, 1e-9, 0.01},
		{"flow_high", "blend.melt_flow", quantity.MeltFlow, r.FlowHigh, 1e-9, 0.01}, {"step", "blend.step", quantity.Mass, &r.Step, 0, 100},
		{"least", "blend.least", quantity.Mass, &r.Least, 0, 1000},
	} {
		if x.value != nil && !(*x.value >= x.lo && *x.value <= x.hi) {
			return shop.Refuse(shop.Invalid, x.field, fact.Say("blend.outside", fact.Word("what", x.name), fact.Measured("value", x.kind, *x.value), fact.Measured("low", x.kind, x.lo), fact.Measured("high", x.kind, x.hi)), fact.Say("blend.check_unit"))
		}
	}
	switch {
	case r.MostLots < 0 || r.MostLots > 100:
		return shop.Refuse(shop.Invalid, "most_lots", fact.Say("blend.too_many_lots", fact.Count("n", r.MostLots)), fact.Say("blend.give_lots"))
	case r.FlowLow != nil && r.FlowHigh != nil && *r.FlowLow > *r.FlowHigh:
		return shop.Refuse(shop.Invalid, "flow_low", fact.Say("blend.flow_crossed", fact.Measured("low", quantity.MeltFlow, *r.FlowLow), fact.Measured("high", quantity.MeltFlow, *r.FlowHigh)), fact.Say("blend.swap_flow"))
	}
	return nil
}

// colour reads the colour wanted: a code, else a word the lots are called by.
func (j *blendJob) colour() error {
	j.within = blendWithin
	if j.req.WithinDE != nil {
		j.within = *j.req.WithinDE
	}
	if j.req.RGB == "" && !j.req.AnyColour {
		j.req.RGB, j.word = j.req.Need.RGB, j.req.Need.Colour
	}
	if j.req.RGB == "" {
		if j.req.Order == NearestColour || j.req.WithinDE != nil {
			return shop.Refuse(shop.Invalid, "rgb", fact.Say("blend.needs_colour"), fact.Say("blend.give_code"))
		}
		return nil
	}
	rgb, err := colour.ParseHex(j.req.RGB)
	if err != nil {
		return shop.Refuse(shop.Invalid, "rgb", fact.Say("blend.no_code", fact.Name("text", j.req.RGB)), fact.Say("blend.code_is"))
	}
	curve, err := colour.FromScreen(rgb)
	if err != nil {
		return err
	}
	j.word = "" // the lots may be called anything
	shade, err := traceability.ShadeOf(curve)
	j.wanted = &shade
	return err
}

// amount is how much to blend: what the print wants in nine of ten cases, or
// the part and the reserve asked for, rounded up to whole steps.
func (j *blendJob) amount() error {
	want, err := consumption.Want(j.state, j.polymer, j.req.Need)
	if err != nil {
		return err
	}
	wanted, how, inputs := want.Figure.High, "blend.need_how", []figure.Figure{want.Figure}
	if j.req.Reserve != nil {
		part := want.Figure.Inputs[0]
		reserve := figure.Exact("reserve", "blend.reserve", quantity.Share, *j.req.Reserve, figure.Entered)
		wanted, how, inputs = part.Value*(1+reserve.Value), "blend.need_how_reserve", []figure.Figure{part, reserve}
	}
	if !(wanted >= 1e-3 && wanted <= 1e4) {
		return shop.Refuse(shop.Invalid, "mass_kg", fact.Say("blend.mass_outside", fact.Measured("mass", quantity.Mass, wanted)), fact.Say("blend.check_unit"))
	}
	digit := j.state.Resolution(wanted)
	if j.req.Step == 0 {
		j.req.Step = digit
	}
	j.req.Step = max(j.req.Step, 1e-6*wanted) // no scale has a millionth
	if j.req.Least == 0 {
		j.req.Least = math.Min(blendDigits*digit, wanted)
	}
	j.mass = math.Ceil(wanted/j.req.Step-1e-9) * j.req.Step
	j.need = figure.Exact("need", "blend.need", quantity.Mass, j.mass, figure.Reckoned).From(how, inputs...)
	return nil
}

// pose turns lots and limits into the problem.
func (j *blendJob) pose() error {
	if len(j.lots) == 0 {
		return nil
	}
	p := recipe.Problem{Mass: j.mass, Most: min(j.req.MostLots, len(j.lots))}
	for _, l := range j.lots {
		p.Lots = append(p.Lots, recipe.Lot{Cost: j.cost(l), Stock: l.Mass, Step: j.req.Step, Least: j.req.Least})
		if in := j.inBucket(l.ID); in > 0 {
			p.Lots[len(p.Lots)-1] = recipe.Lot{Cost: j.cost(l), Stock: in, Must: in}
			p.Slack = j.req.Step / 2 // what was weighed is no whole step
		}
	}
	if err := j.limits(); err != nil {
		return err
	}
	for _, r := range j.rows {
		p.Limits = append(p.Limits, r.Limit)
	}
	if j.wanted != nil {
		bodies := make([]colour.Body, len(j.lots))
		for i, l := range j.lots {
			bodies[i] = l.body
		}
		t, err := colour.NewAim(bodies, traceability.LabOf(*j.wanted), colour.PhotoSurface())
		if err != nil {
			return err
		}
		weight := 0.0
		if j.req.Order == NearestColour {
			weight = 1
		}
		p.Curves = []recipe.Curve{{Value: t.Far, Limit: j.within, Weight: weight, Parts: 3, Differences: t.Parts}}
	}
	j.problem = p
	return nil
}

// inBucket is how much of a lot was weighed in already [kg].
func (j *blendJob) inBucket(lot shop.LotID) float64 {
	sum := 0.0
	for _, x := range j.req.Weighed {
		if x.Lot == lot {
			sum += x.Mass
		}
	}
	return sum
}

// cost is what a kilogram of a lot counts in the order wanted.
func (j *blendJob) cost(l blendLot) float64 {
	switch j.req.Order {
	case Cheapest:
		return l.price
	case OldFirst:
		if l.Class != shop.Virgin {
			return -(l.days + freshDay)
		}
	}
	return 0
}

// freshDay is how many days older than it is a lot counts that is not new
// granulate, so that what came today still goes before it. Judgement.
const freshDay = 1

func (j *blendJob) limitsFlow() bool { return j.req.FlowLow != nil || j.req.FlowHigh != nil }

func (j *blendJob) note(s fact.Saying) {
	if !slices.ContainsFunc(j.notes, func(n fact.Saying) bool { return reflect.DeepEqual(n, s) }) {
		j.notes = append(j.notes, s)
	}
}
