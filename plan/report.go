package plan

import (
	"math"
	"slices"
	"strconv"
	"time"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/traceability"
	"hopperful/quantity"
)

// What the masses of a campaign are called: no two alike, since a person at the
// bench weighs several of them.
const (
	nameIn      = "plan.in"
	nameProduct = "plan.product"
	nameLeft    = "plan.left"
	nameLost    = "plan.lost"
	nameBorne   = "belief.dust_borne"
	nameUsable  = "plan.usable"
	nameMissing = "plan.missing"
)

// report writes a settled campaign out as figures, limits, steps and charts.
func (j *job) report(g Grinding, t campaign, openings []campaign) (Grinding, error) {
	g.Possible = true
	g.Take = j.takes(t)
	var prices []price
	if openings != nil {
		prices = j.bench.prices(openings)
	}
	j, t, err := j.redrawn(t)
	if err != nil {
		return g, err
	}
	g.Need = j.want.figure
	for _, part := range []func(*Grinding, campaign) error{
		j.setting, j.masses, j.sizes, j.energy, j.load,
		func(g *Grinding, t campaign) error { return j.limits(g, t, prices) },
		j.temperatureChart, j.yieldChart, j.sizeChart,
	} {
		if err := part(&g, t); err != nil {
			return g, err
		}
	}
	j.say(&g, t)
	return g, nil
}

// redrawn runs a chosen campaign again with the draws a request asks for, so
// that its figures are told with those. What was chosen, and how well it keeps
// its limits, stays.
func (j *job) redrawn(t campaign) (*job, campaign, error) {
	if j.req.Draws == choiceDraws && j.req.Seed == answer.Seed {
		return j, t, nil
	}
	again, b := *j, *j.bench
	var err error
	if b.rows, err = j.known.draws(j.req.Draws, j.req.Seed); err != nil {
		return j, t, err
	}
	if again.want, err = j.demand(b.rows); err != nil {
		return j, t, err
	}
	b.wanted, again.bench = again.want.make, &b
	if err := b.know(j.known, j.req.Seed, j.req.Now); err != nil {
		return j, t, err
	}
	c, err := b.chain(t.d, t.mass, t.run())
	if err != nil {
		return j, t, err
	}
	c.limits = t.limits
	t.cell, t.k = c, len(c.at)-1
	return &again, t, nil
}

// over collects one number a draw into a figure. What it says of the mill comes
// from the books, or from the mill's own runs where there are some.
func (b *bench) over(key, name string, kind quantity.Kind, each func(i int, row []float64) float64) (figure.Figure, error) {
	all := make([]float64, len(b.rows))
	for i, row := range b.rows {
		all[i] = each(i, row)
	}
	f, err := figure.FromDraws(key, name, kind, all)
	if b.runs > 0 {
		return f.LearnedFrom(b.runs), err
	}
	f.Basis = figure.Books
	return f, err
}

// setting states the cycle.
func (j *job) setting(g *Grinding, t campaign) error {
	b := j.bench
	chosen := func(key, name string, kind quantity.Kind, v float64, how string, in ...figure.Figure) figure.Figure {
		return figure.Exact(key, name, kind, v, figure.Reckoned).From(how, in...)
	}
	const search = "plan.searched"
	s := Setting{
		Charge: chosen("charge", "plan.charge", quantity.Mass, t.mass, search, belief(&b.beliefs, estimate.ScrapPacking), belief(&b.beliefs, estimate.SolidDensity)),
		Run:    chosen("run", "plan.run", quantity.Duration, t.run(), search, belief(&b.beliefs, estimate.BreakRate), belief(&b.beliefs, estimate.Toughness), belief(&b.beliefs, estimate.Discharge)),
	}
	var err error
	if err = j.rest(&s, t, search); err != nil {
		return err
	}
	if s.Power, err = b.over("power", "mill.power", quantity.Power, func(_ int, row []float64) float64 { return estimate.Electric(row, t.d.Load) }); err != nil {
		return err
	}
	s.Power.How, s.Power.About = t.d.how, strconv.Itoa(t.d.Level)
	if t.d.Level > 0 {
		f := chosen("level", "plan.level", quantity.Count, float64(t.d.Level), search)
		s.Level = &f
	}
	if s.Charges, s.Total, err = j.length(t); err != nil {
		return err
	}
	s.Charges, s.Total = s.Charges.From(search, g.Need, s.Charge), s.Total.From("plan.total_how", s.Charges, s.Run, s.Rest)
	s.JarEvery = chosen("jar_every", "plan.jar_every", quantity.Count, float64(b.jarEvery(t)),
		"plan.jar_every_how", s.Charge, belief(&b.beliefs, estimate.GrainBulk))
	s.StopAt = chosen("stop_at", "plan.stop_at", quantity.Mass, b.stopAt(), "plan.stop_at_how", g.Need)
	s.Replan = replanAfter(t.charges)
	wait := 0.0
	if s.Wait != nil {
		wait = s.Wait.Value
	}
	s.Finish = j.req.Now.Add(time.Duration((t.total() + wait) * float64(time.Second)))
	g.Setting = s
	return nil
}

// rest states how long the mill rests, before the first charge and between two, and
// how cool the wall has to be by then.
func (j *job) rest(s *Setting, t campaign, search string) error {
	b := j.bench
	first, later := b.waits(t, len(b.rows))
	for i := range later {
		later[i] += t.pause
	}
	of := []figure.Figure{belief(&b.beliefs, estimate.WallCapacity), belief(&b.beliefs, estimate.WallLoss), belief(&b.beliefs, estimate.LidFactor)}
	var err error
	if s.Rest, err = figure.FromDraws("rest", "plan.rest", quantity.Duration, later); err != nil {
		return err
	}
	s.Rest.Value, s.Rest.Low, s.Rest.High = t.rest, math.Min(s.Rest.Low, t.rest), math.Max(s.Rest.High, t.rest)
	if !math.IsInf(t.below, 1) {
		below := figure.Exact("start_below", "plan.start_below", quantity.Temperature, b.room+t.below, figure.Reckoned).From(search, of...)
		s.Below, of = &below, append(of, below)
	}
	s.Rest = s.Rest.From(search, of...)
	if wait := math.Ceil((b.still.wait(t.pause)+answer.Quantile(first, 0.5))/restStep) * restStep; wait > 0 {
		f := figure.Exact("wait", "plan.wait", quantity.Duration, wait, figure.Reckoned).From("plan.wait_how", s.Rest)
		s.Wait = &f
	}
	return nil
}

// length is how many charges it may really take, and how long: the plan's count
// is enough in nine of ten draws, often fewer will do.
func (j *job) length(t campaign) (charges, total figure.Figure, err error) {
	b := j.bench
	counts, lengths := make([]float64, len(b.rows)), make([]float64, len(b.rows))
	for i := range b.rows {
		n := t.charges
		for n > 1 && b.produced(t.cell, i, t.k, n-1) >= b.wanted[i] {
			n--
		}
		counts[i] = float64(n)
		lengths[i] = t.upTo(counts[i])
	}
	if charges, err = figure.FromDraws("charges", "plan.charges", quantity.Count, counts); err != nil {
		return
	}
	if total, err = figure.FromDraws("total", "plan.total", quantity.Duration, lengths); err != nil {
		return
	}
	j.likely = charges.Value
	charges.Value, charges.High = float64(t.charges), float64(t.charges)
	total.Value, total.High = t.total(), t.total()
	return
}

// jarEvery is after how many charges the jar has to be emptied.
func (b *bench) jarEvery(t campaign) int {
	if math.IsInf(b.bounds.jar, 1) {
		return 1
	}
	volume := make([]float64, len(b.rows))
	for i, row := range b.rows {
		volume[i] = t.mass / row[estimate.GrainBulk]
	}
	return max(1, min(t.charges, int(b.bounds.jarShare*b.bounds.jar/answer.Quantile(volume, answer.SureShare))))
}

// takes spreads the campaign's scrap over the lots, in their order.
func (j *job) takes(t campaign) []Take {
	left := math.Min(float64(t.charges)*t.mass, j.bench.available)
	all := []Take{}
	for _, lot := range j.lots.grind {
		if left <= 1e-9 {
			break
		}
		mass := math.Min(left, lot.Mass)
		left -= mass
		why := fact.Say("plan.oldest_first")
		if !lot.prepare.Empty() {
			why = fact.Say("plan.prepare_first", fact.Parts("how", lot.prepare))
		}
		all = append(all, take(lot.Lot, mass, why))
	}
	return all
}

// masses states what comes out and where every gram goes.
func (j *job) masses(g *Grinding, t campaign) error {
	b := j.bench
	in := math.Min(float64(t.charges)*t.mass, b.available)
	short := float64(t.charges)*t.mass - in
	product := func(i int) float64 { return b.produced(t.cell, i, t.k, t.charges) - short }
	stays := func(i int) float64 { return b.residue(t.cell, i, t.k, t.charges) }
	gone := func(i int) float64 { return in - product(i) - stays(i) }
	var err error
	if g.Product, err = b.over("product", nameProduct, quantity.Mass, func(i int, _ []float64) float64 { return product(i) }); err != nil {
		return err
	}
	how := "plan.product_how"
	switch fifths := t.modelShare(); {
	case fifths == 0:
		how = "plan.product_how_yield"
	case fifths < 5:
		how, g.Product.About = "plan.product_how_part", strconv.Itoa(fifths)
	}
	g.Product = g.Product.From(how,
		g.Setting.Charge, g.Setting.Charges, belief(&b.beliefs, estimate.BreakRate), belief(&b.beliefs, estimate.SizeExponent),
		belief(&b.beliefs, estimate.Toughness), belief(&b.beliefs, estimate.Discharge), belief(&b.beliefs, estimate.Dust)).
		Cite("Reid1965", "the batch grinding equation, with a screen")
	digit := math.Max(j.state.Resolution(t.mass), 1e-3) // less than it shows nothing
	left, err := b.over("left", nameLeft, quantity.Mass, func(i int, _ []float64) float64 { return digit * math.Round(stays(i)/digit) })
	if err != nil {
		return err
	}
	lost, err := b.over("lost", nameLost, quantity.Mass, func(i int, _ []float64) float64 { return gone(i) })
	if err != nil {
		return err
	}
	// The three medians need not add up; a single draw does, so the balance
	// shows the one whose product is the middle one.
	i := middle(b.rows, product)
	balanced := func(f figure.Figure, v float64) figure.Figure {
		f.Value, f.Low, f.High = v, math.Min(f.Low, v), math.Max(f.High, v)
		return f
	}
	g.Balance = Balance{
		In:      figure.Exact("in", nameIn, quantity.Mass, in, figure.Reckoned).From("plan.in_how", g.Setting.Charges, g.Setting.Charge),
		Product: balanced(g.Product, product(i)),
		Lost:    balanced(lost.From("plan.lost_how", belief(&b.beliefs, estimate.Dust)), gone(i)),
		Left:    balanced(left.From("plan.left_how", g.Setting.Run), stays(i)),
	}
	return j.surplus(g, t, product)
}

// surplus says by how much more is ground than the part weighs, and why.
func (j *job) surplus(g *Grinding, t campaign, product func(int) float64) error {
	b := j.bench
	borne := traceability.DustBorneBy(j.state)
	usable, err := b.over("usable", nameUsable, quantity.Mass, func(i int, _ []float64) float64 {
		return product(i) * (1 - traceability.DustTooMuch(t.fines[i], borne.Median))
	})
	if err != nil {
		return err
	}
	missing, err := b.over("missing", nameMissing, quantity.Mass, func(i int, _ []float64) float64 { return b.wanted[i] })
	if err != nil {
		return err
	}
	missing.Basis, missing.Runs = figure.Reckoned, 0 // the mill has no part in it
	missing = missing.From("plan.missing_how", g.Need, figure.Exact("on_hand", "plan.on_hand", quantity.Mass, j.want.onHand, figure.Measured))
	g.Product = g.Product.Held(figure.Limit{Name: "plan.chart_need", Value: missing.Value, Side: figure.Over, Holds: t.shares.need})
	g.Figures = append(g.Figures, missing, usable.From("plan.usable_how", g.Product, borneFigure(borne)))
	return nil
}

// borneFigure is how much dust the printer bears.
func borneFigure(b traceability.DustBorne) figure.Figure {
	f := figure.Figure{Key: "dust_borne", Name: nameBorne, Kind: quantity.Share, Value: b.Median, Low: b.Low, High: b.High, Basis: figure.Assumed, Records: b.Records, Runs: b.Prints}
	switch {
	case b.Prints > 0:
		f.Basis = figure.Learned
	case b.Own:
		f.Basis = figure.Entered
	}
	return f
}

// middle is the draw whose value is the median's nearest.
func middle(rows [][]float64, value func(int) float64) int {
	all := make([]float64, len(rows))
	for i := range rows {
		all[i] = value(i)
	}
	mid, best := answer.Quantile(all, 0.5), 0
	digit := 1e-9 * math.Abs(mid) // the two on either side of a median are as near: the last digit of a sum must not choose
	for i, v := range all {
		if math.Abs(v-mid) < math.Abs(all[best]-mid)-digit {
			best = i
		}
	}
	return best
}

// say puts the plan into findings.
func (j *job) say(g *Grinding, t campaign) {
	n, charge, run := fact.Count("n", t.charges), fact.Set("charge", quantity.Mass, t.mass), fact.Set("run", quantity.Duration, t.run())
	level := fact.Name("level", "")
	if t.d.Level > 0 {
		level = fact.Count("level", t.d.Level)
	}
	switch likely := int(math.Round(j.likely)); {
	case g.Trial != nil:
		g.Says = fact.Say("plan.try_one", charge.As("charge"), level.As("level"), run.As("run"))
	case likely < t.charges:
		g.Says = fact.Say("plan.grind_or_fewer", n.As("n"), charge.As("charge"), level.As("level"), run.As("run"), fact.Moment("by", g.Setting.Finish), fact.Count("likely", likely))
	default:
		g.Says = fact.Say("plan.grind", n.As("n"), charge.As("charge"), level.As("level"), run.As("run"), fact.Moment("by", g.Setting.Finish))
	}
	load, rating := t.d.Watts, j.bench.bounds.controller
	if math.IsInf(rating, 1) {
		rating = 0
	}
	g.Lacks, g.Cautions = j.lacks(), j.cautions(load, rating, g.Take)
	g.Steps = j.steps(g, t)
	g.Spoilers = j.spoilers(g)
	g.Next = j.next()
}

// lots whose pieces must be made smaller first.
func (j *job) toPrepare(g *Grinding) []scrapLot {
	return slices.DeleteFunc(j.taken(g.Take), func(lot scrapLot) bool { return lot.prepare.Empty() })
}

// taken are the lots of scrap that are among those to grind, in the order of the scrap.
func (j *job) taken(takes []Take) (all []scrapLot) {
	for _, lot := range j.lots.grind {
		if slices.ContainsFunc(takes, func(t Take) bool { return t.Lot == lot.ID }) {
			all = append(all, lot)
		}
	}
	return all
}
