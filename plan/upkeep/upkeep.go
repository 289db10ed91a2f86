// Package upkeep says when to look at the parts of a mill that wear, how long they may
// last, and which lots a damaged one may have spoilt.
package upkeep

import (
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/upkeep"
	"hopperful/quantity"
	"hopperful/shop"
)

// Options say what a look costs; the zero value is ready.
type Options struct {
	Look   float64 // time of one look [s]; 0: five minutes
	Spoilt float64 // work lost with a kilogram ground by a damaged part [s/kg]; 0: that of grinding it anew
}

// What nobody said. Judgement.
const (
	usualLook   = 300.0  // s, plug pulled, lid off, held against the light
	usualSpoilt = 3600.0 // s/kg, of a mill that has ground nothing yet
	handling    = 60.0   // s a charge, where the shop does not say; as in plans
	ahead       = 0.1    // of the life believed first: over so much the rate is taken
	mostChecks  = 3      // lots to check that are told as steps; the table has all
	soon        = 0.1    // of the span between looks: so little left is told as due
)

// priors are how long parts last before any of the mill's own has failed: kilograms a
// bench mill may put through until 63 of 100 have. Common practice, no source: the
// spreads are so wide that three lives of the shop's own outweigh them.
var priors = map[shop.MillPart]upkeep.Prior{
	shop.ScreenPart:  {Shape: 2, ShapeSpread: 0.4, Scale: 60, ScaleSpread: 1},
	shop.BladePart:   {Shape: 2, ShapeSpread: 0.4, Scale: 40, ScaleSpread: 1}, // until it is blunt
	shop.SealPart:    {Shape: 2, ShapeSpread: 0.4, Scale: 100, ScaleSpread: 1},
	shop.MagnetPart:  {Shape: 1.5, ShapeSpread: 0.4, Scale: 500, ScaleSpread: 1},
	shop.BearingPart: {Shape: 1.5, ShapeSpread: 0.4, Scale: 300, ScaleSpread: 1},
	shop.OtherPart:   {Shape: 1.5, ShapeSpread: 0.4, Scale: 100, ScaleSpread: 1},
}

// spoils is how much of the work in a kilogram is lost when the part fails unseen, and
// harms how long it lasts until it does harm where that is not the end of its life: a
// blunt blade grinds slower, a chipped one leaves metal. Judgement.
var (
	spoils = map[shop.MillPart]float64{shop.ScreenPart: 1, shop.BladePart: 1, shop.SealPart: 0.1, shop.MagnetPart: 0.3, shop.BearingPart: 0.5, shop.OtherPart: 0.3}
	harms  = map[shop.MillPart]upkeep.Prior{shop.BladePart: {Shape: 2, ShapeSpread: 0.4, Scale: 120, ScaleSpread: 1}}
)

// due is when to look at a part.
type due struct {
	*Part
	rate, every, left, lasts figure.Figure
	seen                     int // lives that ended
}

// over reports whether the look is due.
func (d due) over() bool { return d.Damaged != 0 || d.left.Value <= soon*d.every.Value }

// job is an answer on its way.
type job struct {
	state    *shop.State
	mill     string
	brief    bool
	look     figure.Figure
	spoilt   figure.Figure
	dues     []due
	suspects []Suspect
	doc      answer.Document
}

// Of says what to look at on a mill; an empty name is the first mill in use.
func Of(s *shop.State, mill string, o Options) (answer.Document, error) {
	return of(s, mill, o, false)
}

// of leaves out, where only the steps are wanted, how long each part may last: the first
// page asks for every mill each time it is shown.
func of(s *shop.State, mill string, o Options, brief bool) (answer.Document, error) {
	m, err := pick(s, mill)
	if err != nil {
		return answer.Document{}, err
	}
	j := &job{state: s, mill: m.Name, brief: brief}
	j.costs(o)
	for _, p := range Parts(s, m.Name) {
		d, err := j.due(p)
		if err != nil {
			return answer.Document{}, err
		}
		j.dues = append(j.dues, d)
	}
	for _, x := range Suspects(s) {
		if x.Mill == m.Name {
			j.suspects = append(j.suspects, x)
		}
	}
	j.head()
	j.parts()
	j.marked()
	j.doc.Cautions = []answer.Finding{answer.Found(fact.Say("upkeep.caution_plug")), answer.Found(fact.Say("upkeep.caution_edges")), answer.Found(fact.Say("upkeep.caution_maker"))}
	err = j.reasons()
	return j.doc, err
}

// pick is the mill of that name; the first in use where none is named.
func pick(s *shop.State, name string) (shop.MillState, error) {
	if m, ok := s.Mill(name); ok {
		return m, nil
	}
	active := s.ActiveMills()
	switch {
	case name != "":
		return shop.MillState{}, shop.Refuse(shop.NotFound, "mill", fact.Say("upkeep.no_such_mill", fact.Name("mill", name)), fact.Say("upkeep.list_mills"))
	case len(active) == 0:
		return shop.MillState{}, shop.Refuse(shop.NotFound, "mill", fact.Say("upkeep.no_mill"), fact.Say("do.describe_mill"))
	}
	return active[0], nil
}

// costs finds what a look takes, and what a spoilt kilogram does.
func (j *job) costs(o Options) {
	j.look = figure.Exact("look", "upkeep.look_takes", quantity.Duration, usualLook, figure.Assumed)
	if o.Look > 0 {
		j.look.Value, j.look.Basis = o.Look, figure.Entered
	}
	j.look.Low, j.look.High = j.look.Value, j.look.Value
	spoilt := usualSpoilt
	basis := figure.Assumed
	var out, work float64
	each := handling
	if h := j.state.Shop.Handling; h != nil {
		each = *h
	}
	for _, r := range j.state.Records.NewestOf(shop.Lately, (*shop.Ground)(nil)) {
		b, ok := r.Body.(*shop.Ground)
		if !ok || b.Mill != j.mill || b.Product == nil {
			continue
		}
		out += *b.Product
		work += b.Run + each
		if b.RestBefore != nil {
			work += *b.RestBefore
		}
	}
	if out > 0 {
		spoilt, basis = work/out, figure.Reckoned
	}
	j.spoilt = figure.Exact("spoilt", "upkeep.spoilt_costs", quantity.Duration, spoilt, basis)
	if basis == figure.Reckoned {
		j.spoilt.How = "Σ (t_run + t_rest + t_handling) / Σ m"
	}
	if o.Spoilt > 0 {
		j.spoilt = figure.Exact("spoilt", "upkeep.spoilt_costs", quantity.Duration, o.Spoilt, figure.Entered)
	}
}

// due reckons one part.
func (j *job) due(p *Part) (due, error) {
	d := due{Part: p}
	prior, other := harms[p.Part]
	if !other {
		prior = priors[p.Part]
	}
	harm, err := upkeep.Believe(prior, p.Harm)
	if err != nil {
		return d, err
	}
	for _, w := range p.Lives {
		if !math.IsInf(w.To, 1) {
			d.seen++
		}
	}
	basis := figure.Books
	if d.seen > 0 {
		basis = figure.Learned
	}
	mean, low, high, err := harm.Rate(p.Now.Mass, ahead*prior.Scale)
	if err != nil {
		return d, err
	}
	d.rate = figure.Figure{Key: "rate", Name: "upkeep.rate", Kind: quantity.Number, Value: mean, Low: min(low, mean), High: max(high, mean), Basis: basis, Runs: d.seen}.
		Cite("judgement", "the first range").Cite("MeekerEscobar1998", "from memory")
	every := func(rate float64) float64 {
		x, e := upkeep.LookEvery(j.look.Value, j.spoilt.Value*spoils[p.Part], rate)
		if e != nil {
			err = e
		}
		return x
	}
	d.every = figure.Figure{Key: "every", Name: "upkeep.every", Kind: quantity.Mass, Value: every(mean), Low: every(d.rate.High), High: every(d.rate.Low), Basis: figure.Reckoned}.
		From("x = √(2·t_look / (h·s·t_spoilt))", d.rate, j.look, j.spoilt, figure.Exact("share_lost", "upkeep.share_lost", quantity.Share, spoils[p.Part], figure.Assumed)).Cite("BarlowProschan1965", "from memory")
	if err != nil {
		return d, err
	}
	left := func(x float64) float64 { return max(0, x-p.Unseen.Mass) }
	d.left = figure.Figure{Key: "next_look", Name: "upkeep.next_look", Kind: quantity.Mass, Value: left(d.every.Value), Low: left(d.every.Low), High: left(d.every.High), Basis: figure.Reckoned}.
		From("x − m", d.every, figure.Exact("unseen", "upkeep.unseen", quantity.Mass, p.Unseen.Mass, figure.Measured))
	if j.brief {
		return d, nil
	}
	b, err := upkeep.Believe(priors[p.Part], p.Lives)
	if err != nil {
		return d, err
	}
	q, err := b.Remaining(p.Now.Mass, 0.1, 0.5, 0.9)
	if err != nil {
		return d, err
	}
	d.lasts = figure.Figure{Key: "lasts", Name: "upkeep.lasts", Kind: quantity.Mass, Value: q[1], Low: q[0], High: q[2], Basis: basis, Runs: d.seen}.
		From("S(t + x) / S(t), S = exp(−(t/η)^β)", figure.Exact("done", "upkeep.done", quantity.Mass, p.Now.Mass, figure.Measured)).Cite("MeekerEscobar1998", "from memory")
	return d, nil
}

// head is the answer: what is damaged, else what is due, else the next look.
func (j *job) head() {
	mill := fact.Name("mill", j.mill)
	var next *due
	for i := range j.dues {
		d := &j.dues[i]
		if d.Part.Part == shop.OtherPart {
			continue
		}
		if d.Damaged != 0 {
			j.doc.Steps = append(j.doc.Steps, answer.Action{Do: fact.Say("do.mend_part", mill, PartWord(d.Part.Part), partKey(d.Part.Part)), Why: fact.Say("upkeep.found_damaged", fact.Count("record", int(d.Damaged)))})
		}
		if next == nil || d.Damaged != 0 && next.Damaged == 0 || d.Damaged == 0 && next.Damaged == 0 && d.left.Value < next.left.Value {
			next = d
		}
	}
	switch {
	case next.Damaged != 0:
		j.doc.Head = answer.Found(fact.Say("upkeep.damaged", mill, PartWord(next.Part.Part)))
	case next.Now.Runs == 0 && len(next.Lives) == 0:
		j.doc.Head = answer.Found(fact.Say("upkeep.nothing_ground", mill))
	case next.over():
		j.doc.Head = answer.Found(fact.Say("upkeep.look_now", mill, PartWord(next.Part.Part), fact.About("unseen", quantity.Mass, next.Unseen.Mass)))
	default:
		j.doc.Head = answer.Found(fact.Say("upkeep.look_before", mill, PartWord(next.Part.Part), fact.About("left", quantity.Mass, next.left.Value)))
	}
	for _, d := range j.dues {
		if d.Damaged == 0 && d.over() && d.Now.Runs > 0 {
			j.doc.Steps = append(j.doc.Steps, answer.Action{Do: fact.Say("do.look_at_part", mill, PartWord(d.Part.Part), partKey(d.Part.Part)),
				Why: fact.Say("upkeep.since_look", fact.About("unseen", quantity.Mass, d.Unseen.Mass), fact.About("every", quantity.Mass, d.every.Value))})
		}
		if d.Look == 0 && d.Now.Runs > 0 {
			j.doc.Spoilers = append(j.doc.Spoilers, answer.Found(fact.Say("upkeep.never_looked", PartWord(d.Part.Part))))
		}
	}
	j.doc.Spoilers = j.doc.Spoilers[:min(len(j.doc.Spoilers), answer.MostSpoilers)]
	j.doc.Figures = append(j.doc.Figures, next.left, next.lasts)
}

// parts is the table of all parts.
func (j *job) parts() {
	t := answer.Table{Key: "upkeep_parts", Leads: true, Columns: []answer.Column{{Key: "part"}, {Key: "part_mass", Numbers: true}, {Key: "part_time", Numbers: true}}}
	metered := slices.ContainsFunc(j.dues, func(d due) bool { return d.Now.Metered > 0 })
	if metered { // an empty column tells nothing, and a phone is narrow
		t.Columns = append(t.Columns, answer.Column{Key: "part_energy", Numbers: true})
	}
	t.Columns = append(t.Columns, answer.Column{Key: "next_look", Numbers: true}, answer.Column{Key: "may_last", Numbers: true})
	unmetered := false
	for _, d := range j.dues {
		energy := fact.Name("energy", "")
		if d.Now.Metered > 0 {
			energy = fact.About("energy", quantity.Energy, d.Now.Energy)
		}
		unmetered = unmetered || d.Now.Metered < d.Now.Runs
		look := fact.About("left", quantity.Mass, d.left.Value)
		if d.Damaged != 0 {
			look = fact.Word("left", "upkeep.is_damaged")
		} else if d.over() {
			look = fact.Word("left", "upkeep.is_due")
		}
		row := []fact.Fact{PartWord(d.Part.Part), fact.About("mass", quantity.Mass, d.Now.Mass), fact.About("time", quantity.Duration, d.Now.Time)}
		if metered {
			row = append(row, energy)
		}
		t.Rows = append(t.Rows, append(row, look,
			fact.Parts("lasts", fact.Say("upkeep.from_to", fact.About("low", quantity.Mass, d.lasts.Low), fact.About("high", quantity.Mass, d.lasts.High)))))
	}
	if unmetered && metered {
		t.Notes = append(t.Notes, fact.Say("upkeep.unmetered"))
	}
	j.doc.Tables = append(j.doc.Tables, t)
}

// marked lists the lots that damage may have spoilt.
func (j *job) marked() {
	if len(j.suspects) == 0 {
		return
	}
	t := answer.Table{Key: "upkeep_lots", Leads: true, Columns: []answer.Column{{Key: "marked_lot"}, {Key: "lot_left", Numbers: true}, {Key: "part"}, {Key: "checked"}}}
	open, steps := 0, 0
	for _, x := range j.suspects {
		l, ok := j.state.Lot(x.Lot)
		if !ok {
			continue
		}
		checked := fact.Word("checked", "upkeep.not_checked")
		switch {
		case x.Record != 0:
			checked = fact.Parts("checked", fact.Say("upkeep.checked_by", fact.Count("record", int(x.Record))))
		case x.Made:
			checked = fact.Word("checked", "upkeep.made_of_it")
		default:
			open++
			if l.Mass > 0 && steps < mostChecks {
				steps++
				j.doc.Steps = append(j.doc.Steps, answer.Action{Do: Check(x, l), Why: fact.Say("upkeep.ground_since", fact.Count("record", int(x.Found)))})
			}
		}
		t.Rows = append(t.Rows, []fact.Fact{answer.Lot("lot", l), fact.About("mass", quantity.Mass, l.Mass), PartWord(x.Part), checked})
	}
	j.doc.Tables = append(j.doc.Tables, t)
	if open > 0 {
		f := answer.Found(fact.Say("upkeep.lots_marked", fact.Count("n", open)))
		f.Weight = 1
		j.doc.Spoilers = append([]answer.Finding{f}, j.doc.Spoilers...)
		j.doc.Spoilers = j.doc.Spoilers[:min(len(j.doc.Spoilers), answer.MostSpoilers)]
	}
}

// Check is how a marked lot is checked.
func Check(x Suspect, l *shop.Lot) fact.Saying {
	if x.Part == shop.BladePart || x.Part == shop.BearingPart || x.Part == shop.MagnetPart {
		return fact.Say("do.check_by_magnet", answer.Lot("lot", l))
	}
	return fact.Say("do.check_by_sieve", answer.Lot("lot", l))
}
