package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/source"
)

// DryRequest asks how to dry a lot, or some of a polymer.
type DryRequest struct {
	Lot         shop.LotID // empty: some regrind of Polymer
	Polymer     string     // empty: the lot's
	Way         shop.Way   // empty: the shop's dryers, or every kind where it has described none
	Hole        *float64   // screen hole of granulate that is no lot yet [m]
	Temperature *float64   // of the dryer [K]; nil: usual for the polymer
	Bed         *float64   // depth of the heap [m]; nil: as deep as it may be, at most 2 cm
	DewPoint    *float64   // of a dry-air dryer [K]; nil: −30 °C
	Flow        *float64   // air through the granulate [m³/s], of a dehydrator or dry-air dryer
	Humidity    *float64   // a desiccant keeps [1]; nil: 10 %RH
	Mass        *float64   // to dry [kg]; nil: the lot, or 1 kg
	Start       *float64   // water in it now [1]; nil: at rest with the room's air, or what its records say
	Limit       *float64   // to reach [1]; nil: the highest for the melt
	Now         time.Time
	Seed        uint64
	Draws       int // 0 takes 240
}

// Drying is a plan for a dryer.
type Drying struct {
	Document    answer.Document
	Possible    bool            // the limit is reached in nine of ten draws
	Needed      bool            // it is not dry already
	Blocked     *answer.Finding // why not, and what to do
	By          string          // what stands in the way, as the key of its wording
	Barred      bool            // it must not be dried at all
	Polymer     string
	Way         shop.Way
	Dryer       string        // its name; empty: none described
	Assumed     bool          // nobody has described a dryer: the quickest kind is taken
	With        []DryWith     // every dryer or kind that was looked at; empty where one was asked for
	Temperature figure.Figure // of the dryer
	Depth       figure.Figure // of the heap
	Start       figure.Figure // water in it now
	Limit       figure.Figure // wanted
	Rest        figure.Figure // water this dryer leaves after any time
	Time        figure.Figure // in the dryer; plan for the high end
	Open        figure.Figure // spread in the room's air until it is too wet again
	Figures     []figure.Figure
	doubts      []answer.Finding
	cautions    []answer.Finding
	charts      []answer.Chart
	steps       []answer.Action
	lot         *shop.Lot
	air         Air // of the dryer
}

// ways are the ways a check tries, the commonest first.
var ways = []shop.Way{shop.Oven, shop.Dehydrator, shop.DesiccantBox, shop.DryAir}

// In is a way of drying as part of a sentence.
func In(way shop.Way) fact.Saying {
	switch way {
	case shop.Oven:
		return fact.Say("dry.in_oven")
	case shop.Dehydrator:
		return fact.Say("dry.in_dehydrator")
	case shop.DesiccantBox:
		return fact.Say("dry.in_box")
	case shop.DryAir:
		return fact.Say("dry.in_dry_air")
	}
	return fact.Say("dry.in_dryer")
}

// DryWays are the ways to dry that [Dry] knows.
func DryWays() []shop.Way { return append([]shop.Way(nil), ways...) }

// dryJob is a drying plan on its way.
type dryJob struct {
	*job
	req   DryRequest
	with  shop.Dryer
	air   Air
	depth float64
	mass  float64
	draws []dryDraw
}

// barred is what keeps the lot, or the plastic asked about, from any heat.
func (j *dryJob) barred() *shop.Bar {
	if j.req.Lot != "" && (j.req.Polymer == "" || j.lot.Suspected()) {
		return j.lot.Bar()
	}
	return shop.BarOf(j.polymer.Name)
}

func newDryJob(s *shop.State, req DryRequest) (*dryJob, error) {
	if req.Draws == 0 {
		req.Draws = fitDraws
	}
	if req.Seed == 0 {
		req.Seed = answer.Seed
	}
	if err := req.check(); err != nil {
		return nil, err
	}
	j := &dryJob{req: req, job: &job{state: s, req: Request{Now: req.Now, Seed: req.Seed, Draws: req.Draws}}}
	var err error
	if j.table, err = s.Table(); err != nil {
		return nil, err
	}
	if err := j.pick(); err != nil {
		return nil, err
	}
	j.facts = factsOf(s, j.lot)
	if j.req.Lot == "" {
		j.facts.hole = req.Hole
	}
	j.temperature = j.usualTemperature()
	return j, nil
}

// check refuses what no dryer is.
func (r DryRequest) check() error {
	if r.Draws < 1 || r.Draws > mostFitDraws {
		return tooManyDraws(r.Draws)
	}
	if r.Way != "" && r.Way != shop.OtherWay && !slices.Contains(ways, r.Way) {
		return shop.Refuse(shop.Invalid, "way", fact.Say("dry.no_way", fact.Name("name", string(r.Way))), fact.Say("dry.ways"))
	}
	for _, x := range []struct {
		v      *float64
		field  string
		lo, hi float64
		kind   quantity.Kind
	}{
		{r.Temperature, "temperature_k", 253.15, 473.15, quantity.Temperature},
		{r.Bed, "bed_m", 1e-3, 5, quantity.Length},
		{r.DewPoint, "dew_point_k", 173.15, 333.15, quantity.Temperature},
		{r.Flow, "flow_m3_s", 1e-6, 10, quantity.VolumeFlow},
		{r.Humidity, "humidity", 0, 1, quantity.Humidity},
		{r.Mass, "mass_kg", 1e-3, 1e3, quantity.Mass},
		{r.Start, "start", 0, 0.3, quantity.Share},
		{r.Limit, "limit", 1e-6, 0.1, quantity.Share},
	} {
		if x.v != nil && !(*x.v >= x.lo && *x.v <= x.hi) {
			return shop.Refuse(shop.Invalid, x.field, fact.Say("fit.outside", fact.Word("what", outsideNames[x.field]), fact.Measured("value", x.kind, *x.v),
				fact.Set("low", x.kind, x.lo), fact.Set("high", x.kind, x.hi)), fact.Saying{})
		}
	}
	return nil
}

// pick finds lot and polymer.
func (j *dryJob) pick() error {
	name := j.req.Polymer
	if j.req.Lot != "" {
		lot, ok := j.state.Lot(j.req.Lot)
		if !ok {
			return noLot(j.req.Lot)
		}
		j.lot = lot
		if name == "" {
			name = lot.Polymer
		}
	} else {
		j.lot = &shop.Lot{Class: shop.Regrind, Mass: 1, Polymer: name}
	}
	if strings.TrimSpace(name) == "" {
		name = polymer.Unknown
	}
	var err error
	if j.polymer, err = j.table.Find(name); err != nil {
		return noPolymer(err)
	}
	j.mass = or(j.req.Mass, max(j.lot.Mass, 1e-3))
	return nil
}

// fSoftening is drawn behind the others.
const fSoftening = int(fitParams)

// prepare gathers the beliefs and draws.
func (j *dryJob) prepare() error {
	j.beliefs = prior()
	j.believeMaterial()
	if err := j.believeLot(); err != nil {
		return err
	}
	if err := j.believeDry(); err != nil {
		return err
	}
	if j.req.Limit != nil {
		j.beliefs.know(fDryLimit, j.req.Limit)
	}
	if s := sorptionOf(j.medians()); j.req.Start != nil && *j.req.Start > s.Saturated {
		// Wetter than saturated air makes it: washed, or another grade.
		more := *j.req.Start / s.Saturated * j.beliefs[fWater].Median
		j.beliefs.know(fWater, &more)
	}
	room, humidity := j.room()
	j.air = Air{Way: j.req.Way, Temperature: or(j.req.Temperature, j.usualDrying()), Dew: j.req.DewPoint, Flow: j.req.Flow,
		Humidity: j.req.Humidity, Room: room, Moist: humidity}
	all := append(append([]estimate.Belief{}, j.beliefs[:]...), j.softens())
	var err error
	j.rows, err = estimate.Hypercube(all, j.req.Draws, rand.New(rand.NewPCG(j.req.Seed, j.req.Seed)))
	if err != nil {
		return fmt.Errorf("drawing the ranges: %w", err)
	}
	return nil
}

// usualDrying is the polymer's drying temperature, or some below its softening.
func (j *dryJob) usualDrying() float64 {
	if j.req.Way == shop.DesiccantBox && j.with.Temperature == nil { // such boxes stand in the room, unheated
		room, _ := j.room()
		return room
	}
	return math.Min(j.gentle(), or(j.with.Temperature, math.Inf(1)))
}

// gentle is the temperature the polymer is dried at, below its softening.
func (j *dryJob) gentle() float64 {
	const clear = 3 // K below softening in nine of ten cases; judgement
	most := j.softens().Low - clear
	if v, err := j.polymer.Value(polymer.DryingTemperature); err == nil {
		return math.Min(v.Value, most)
	}
	return most - 10
}

// softens is what is believed of the softening temperature.
func (j *dryJob) softens() estimate.Belief {
	soft := softening(j.polymer)
	b := estimate.Belief{Key: "softening", Name: "belief.softening", Kind: quantity.Temperature, Family: estimate.Normal,
		Median: soft, Low: soft - 3, High: soft + 3, Source: source.Cite("judgement", "as the softest of the common plastics")}
	if v, err := j.polymer.Value(polymer.Softening); err == nil {
		b.Low, b.High, b.Source = v.Low, v.High, v.Source
	}
	if b.Low == b.High {
		b.Family = estimate.Exact
	}
	return b
}
