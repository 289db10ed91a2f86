package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/consumption"
	"hopperful/polymer"
	"hopperful/process/breakage"
	"hopperful/quantity"
	"hopperful/shop"
)

// What a plan takes where nobody said.
const (
	defaultDraws    = choiceDraws
	defaultHandling = 60.0  // s, to empty, weigh and fill again; judgement
	defaultLargest  = 0.03  // m, hand-broken prints; judgement
	defaultWall     = 0.002 // m, walls of prints; judgement
)

// mostDraws bounds the work and the memory of one plan: at 20 000 the ends of a
// range stand still to a hundredth of its width.
const mostDraws = 20000

// Grind plans the campaign that makes what the need wants: the quickest that
// keeps every limit in nine of ten draws. A request that makes no sense is a
// [shop.Error]; a plan that cannot be made is an answer, with Possible false and
// the limit that stands in the way.
func Grind(s *shop.State, req Request) (Grinding, error) {
	j, err := newJob(s, req.filled())
	if err != nil {
		return Grinding{}, err
	}
	g, err := j.plan()
	first := j.doubted(&g)
	if j.req.only {
		first = append(first, answer.OnlyPlastic(j.polymer.Name))
	}
	g.Spoilers = append(first, g.Spoilers...)
	g.Spoilers = g.Spoilers[:min(len(g.Spoilers), answer.MostSpoilers)]
	return g, err
}

// newJob gathers what a request needs, and sets up the bench on which a plan is chosen.
func newJob(s *shop.State, req Request) (*job, error) {
	if req.Draws < 1 || req.Draws > mostDraws {
		return nil, shop.Refuse(shop.Invalid, "draws", fact.Say("plan.draws_outside", fact.Count("draws", req.Draws), fact.Count("most", mostDraws)), fact.Saying{})
	}
	req.Polymer, req.only = consumption.PlasticOf(s, req.Polymer)
	mill, err := PickMill(s, req.Mill)
	if err != nil {
		return nil, err
	}
	material, err := pickPolymer(s, req)
	if err != nil {
		return nil, err
	}
	beliefs, err := believe(mill.Mill, material, req.Need)
	if err != nil {
		return nil, fmt.Errorf("what is known about %s: %w", mill.Name, err)
	}
	known, err := learned(s, mill.Mill, material, beliefs, 0)
	if err != nil {
		return nil, err
	}
	wanting, err := wantings(s, material, req)
	if err != nil {
		return nil, err
	}
	j := &job{state: s, req: req, mill: mill, polymer: material, known: known, wanting: wanting, lots: choose(s, req, material.Name, mill.Mill)}
	if req.Make != nil {
		j.lots.ready = nil
	}
	return j, j.sit(choiceDraws, answer.Seed)
}

// sit sets the bench up with so many draws. The choice of a campaign always sees
// the same ones: the same records give the same plan, whatever the seed of the
// ranges that are told with it.
func (j *job) sit(draws int, seed uint64) error {
	rows, err := j.known.draws(draws, seed)
	if err != nil {
		return err
	}
	beliefs := j.known.beliefs()
	if j.want, err = j.demand(rows); err != nil {
		return err
	}
	if j.bench, err = newBench(j.state, j.mill.Mill, j.polymer, beliefs, rows, j.lots, j.want); err != nil {
		return err
	}
	if !j.req.By.IsZero() {
		j.bench.within = j.req.By.Sub(j.req.Now).Seconds()
	}
	if err := j.bench.know(j.known, seed, j.req.Now); err != nil {
		return err
	}
	row := beliefs.Medians()
	j.bench.practice = practiceOf(j.known.log, j.mill.Mill, len(sittingOf(j.known.log, j.req.Now)),
		feed{j.polymer.Name, section(j.bench.largest, j.bench.thickness)}, func(kg float64) float64 { return j.bench.fillOf(row, kg, 0) })
	j.bench.tellChamber(row)
	return nil
}

// job is a request with all it needs, on its way to a plan.
type job struct {
	state   *shop.State
	req     Request
	mill    shop.MillState
	polymer polymer.Polymer
	known   *lesson
	wanting []consumption.Wanting // none for the rest of a campaign
	lots    choice
	want    demand
	bench   *bench
	likely  float64 // charges that are enough in half of the draws
}

// plan decides what kind of answer there is.
func (j *job) plan() (Grinding, error) {
	g := Grinding{
		Mill: j.mill.Name, Polymer: j.polymer.Name, NeedName: j.req.Need.Name,
		Need: j.want.figure, Aside: j.lots.aside, Draws: j.req.Draws, Seed: j.req.Seed,
	}
	g.OnHand = j.onHand()
	switch {
	case answer.Quantile(j.want.make, answer.SureShare) <= 0:
		return j.nothingToGrind(g)
	case len(j.lots.grind) == 0:
		return j.noScrap(g)
	case len(j.bench.practice.jammed.open) >= stallsEnd:
		return j.stuck(g)
	case len(j.bench.practice.jammed.open) > 0:
		return j.afterStall(g)
	case j.bench.practice.none():
		return j.first(g)
	}
	cells, openings, done, ok, err := j.bench.chosen()
	if err != nil {
		return g, err
	}
	if !ok || j.bench.absurd(done) {
		if clean, there := j.bench.emptied(); there {
			again, started, better, found, err := clean.chosen()
			if err != nil {
				return g, err
			}
			if found && !clean.absurd(better) && (!ok || j.emptying(better) < done.cost()) {
				g.Empty = j.lying()
				j.bench, cells, openings, done, ok = clean, again, started, better, true
			}
		}
	}
	var now *campaign
	if ok && !j.bench.absurd(done) {
		now = &done
	}
	if j.req.Moved {
		if g.Moved, err = j.moved(now); err != nil {
			return g, err
		}
	}
	switch {
	case !ok:
		return j.impossible(g, cells)
	case now == nil:
		return j.slow(g, done, openings)
	}
	return j.report(g, done, openings)
}

// chosen looks at what practice allows, and settles the best of it.
func (b *bench) chosen() (cells []*cell, openings []campaign, found campaign, ok bool, err error) {
	if cells, err = b.look(); err != nil {
		return nil, nil, found, false, err
	}
	openings = b.openings(cells)
	found, ok, err = b.settled(openings)
	return cells, openings, found, ok, err
}

// emptying is what a campaign costs in a mill that is emptied first: a person's minutes, and
// what is thrown out is ground for nothing [s].
func (j *job) emptying(t campaign) float64 {
	return t.cost() + sweeping + j.bench.lying()/t.mass*(t.run()+t.rest+effort)
}

// lying is what has to be taken out of the mill first, as a figure.
func (j *job) lying() *figure.Figure {
	f, err := j.bench.over("lying", "plan.lying", quantity.Mass, func(i int, _ []float64) float64 { return j.bench.still.residue(i) })
	if err != nil { // no draws: no mass to tell
		return nil
	}
	f = f.From("plan.lying_how")
	return &f
}

// noise is the share of the cost within which two campaigns are alike; where next to
// nothing was done in the mill, what was done may cost more by [unproved].
const (
	noise      = 0.12
	unproved   = 0.9
	turning    = 0.3 // that repeating the charge before may cost more than another setting
	fewDeeds   = 6
	mostlyCool = 0.7    // of the draws, in which what was done keeps the charge's limit at the least
	saneRest   = 1200.0 // s, that people wait between two charges
	lasting    = 2.0    // at most, that what is nearer to practice may take
	oftener    = 1.3    // and as often as a charge may be filled for it, where that is often
)

// settled settles the best campaigns of the first look with all draws and
// returns the cheapest, or of those as good as that the one nearest to what was
// done.
func (b *bench) settled(openings []campaign) (campaign, bool, error) {
	var all []campaign
	for _, t := range b.contenders(openings) {
		full, ok, err := b.settle(t)
		if err != nil {
			return campaign{}, false, err
		}
		if ok {
			all = append(all, full)
		}
	}
	if len(all) == 0 {
		return campaign{}, false, nil
	}
	slices.SortStableFunc(all, cheaper)
	found := all[0]
	for _, t := range all[1:] {
		if t.turned < found.turned-1e-9 && b.instead(t, all[0]) {
			found = t
		}
	}
	return found, true, nil
}

// instead reports whether a campaign nearer to practice may be taken for the best one:
// where they cost the same but for noise, where it goes on as the charge before, or where
// next to nothing was done, it is what was done and not much slower, nor warmer more often.
func (b *bench) instead(t, best campaign) bool {
	switch {
	case b.absurd(t):
		return false
	case t.cost() <= (1+noise)*best.cost(), b.practice.before != nil && t.turned <= asDone && t.cost() <= (1+turning)*best.cost():
		return true
	}
	if t.charges > fewCharges && float64(t.charges) > oftener*float64(best.charges) { // crumbs are known to work, and no work for a person
		return false
	}
	return len(b.practice.deeds) < fewDeeds && t.away <= asDone && t.rest <= saneRest && t.cost() <= (1+unproved)*best.cost() &&
		t.total() <= lasting*best.total() && t.shares.cool >= math.Min(best.shares.cool-drawNoise, mostlyCool)
}

func (r Request) filled() Request {
	if r.Draws == 0 {
		r.Draws = defaultDraws
	}
	if r.Seed == 0 {
		r.Seed = answer.Seed
	}
	if r.Polymer == "" {
		r.Polymer = r.Need.Polymer
	}
	if r.Colour == "" {
		r.Colour = r.Need.Colour
	}
	return r
}

// PickMill finds the mill by name, or takes the first in use.
func PickMill(s *shop.State, name string) (shop.MillState, error) {
	active := s.ActiveMills()
	if name != "" {
		if m, ok := s.Mill(name); ok {
			return m, nil
		}
		return shop.MillState{}, noMill(s, name)
	}
	if len(active) > 0 {
		return active[0], nil
	}
	return shop.MillState{}, shop.Refuse(shop.NotFound, "mill", fact.Say("plan.no_mill"), fact.Say("plan.describe_mill"))
}

// noMill refuses a mill nobody described, and names those there are.
func noMill(s *shop.State, name string) *shop.Error {
	var names []string
	for _, m := range s.ActiveMills() {
		names = append(names, m.Name)
	}
	advice := fact.Say("plan.describe_mill")
	if len(names) > 0 {
		advice = fact.Say("plan.mills_are", fact.Names("mills", names))
	}
	return shop.Refuse(shop.NotFound, "mill", fact.Say("plan.no_such_mill", fact.Name("mill", name)), advice)
}

// pickPolymer finds the material, and refuses those that must not be ground.
func pickPolymer(s *shop.State, req Request) (polymer.Polymer, error) {
	if strings.TrimSpace(req.Polymer) == "" {
		return polymer.Polymer{}, consumption.WhichPlastic(s)
	}
	table, err := s.Table()
	if err != nil {
		return polymer.Polymer{}, err
	}
	p, err := table.Find(req.Polymer)
	if err != nil {
		return p, shop.Refused(shop.NotFound, "polymer", err)
	}
	if bar := shop.BarOf(p.Name); bar != nil {
		return p, bar.Refusal("polymer")
	}
	return p, nil
}

// newBench sets the search up.
func newBench(s *shop.State, m shop.Mill, p polymer.Polymer, beliefs estimate.Beliefs, rows [][]float64, lots choice, want demand) (*bench, error) {
	impact, err := p.Value(polymer.ImpactNotched)
	if err != nil {
		return nil, err
	}
	b := &bench{mill: m, levels: draws(m), rows: rows, beliefs: beliefs, wanted: want.make, bounds: usual,
		handling: defaultHandling, within: math.Inf(1), impact: impact.Value, plastic: p.Name}
	for _, one := range beliefs.List() {
		b.runs = max(b.runs, one.Runs)
	}
	b.bounds.jar, b.bounds.motor, b.bounds.controller = unlimited(m.Jar), unlimited(m.ContinuousPower), math.Inf(1)
	if m.Controller != nil {
		b.bounds.controller = unlimited(m.Controller.Continuous)
	}
	b.room, _, _ = roomOf(s, m.Name)
	if s.Shop.Handling != nil {
		b.handling = *s.Shop.Handling
	}
	b.largest, b.thickness = scrapSize(lots.grind, m)
	for _, lot := range lots.grind {
		b.available += lot.Mass
	}
	b.grid, err = breakage.NewGrid(b.largest)
	return b, err
}

func unlimited(v *float64) float64 {
	if v == nil {
		return math.Inf(1)
	}
	return *v
}

// scrapSize is the largest piece that goes in and the wall thickness of the
// scrap: of the lots where it is known, the usual one elsewhere. Pieces larger
// than the mill takes are broken first.
func scrapSize(lots []scrapLot, m shop.Mill) (largest, wall float64) {
	for _, l := range lots {
		if l.Pieces.Largest != nil {
			largest = math.Max(largest, *l.Pieces.Largest)
		}
		if l.Pieces.Wall != nil {
			wall = math.Max(wall, *l.Pieces.Wall)
		}
	}
	if largest == 0 {
		largest = defaultLargest
	}
	if wall == 0 {
		wall = defaultWall
	}
	largest = math.Min(largest, pieceLimit(m))
	return largest, math.Min(wall, largest/2)
}

// onHand are the lots that already serve the need, as many as it eats: what was
// printed before goes first, new granulate last.
func (j *job) onHand() []Take {
	var all []Take
	open := answer.Quantile(j.want.want, answer.SureShare)
	for _, virgin := range []bool{false, true} {
		for _, lot := range j.lots.ready {
			if (lot.Class == shop.Virgin) == virgin && open > 0 {
				all = append(all, take(lot, math.Min(lot.Mass, open), fact.Say("plan.ready_lot", answer.Class("class", lot.Class))))
				open -= lot.Mass
			}
		}
	}
	return all
}

// take names an amount of a lot.
func take(lot *shop.Lot, mass float64, why fact.Saying) Take {
	return Take{Lot: lot.ID, Name: lot.Name, Colour: lot.Colour, RGB: lot.RGB, Why: why,
		Mass: figure.Exact("take", "plan.take", quantity.Mass, mass, figure.Reckoned)}
}

// lot and mass are what is taken, as facts.
func (t Take) lot() fact.Fact  { return fact.Lot("lot", string(t.Lot), t.Name) }
func (t Take) mass() fact.Fact { return fact.Set("mass", quantity.Mass, t.Mass.Value) }

// weighOut asks for it.
func (t Take) weighOut() fact.Saying { return fact.Say("plan.weigh_out", t.lot(), t.mass()) }
