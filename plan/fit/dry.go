package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"time"

	"hopperful/answer"
	"hopperful/estimate"
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
	Answer      string           `json:"answer"`
	Possible    bool             `json:"possible"`          // the limit is reached in nine of ten draws
	Needed      bool             `json:"needed"`            // it is not dry already
	Blocked     *answer.Block    `json:"blocked,omitempty"` // why not, and what to do
	Spoilers    []answer.Spoiler `json:"spoilers"`
	Lot         shop.LotID       `json:"lot,omitempty"`
	Polymer     string           `json:"polymer"`
	Way         shop.Way         `json:"way"`
	Dryer       string           `json:"dryer,omitempty"` // its name; empty: none described
	Assumed     bool             `json:"assumed"`         // nobody has described a dryer: the quickest kind is taken
	With        []DryWith        `json:"with"`            // every dryer or kind that was looked at; empty where one was asked for
	Temperature figure.Figure    `json:"temperature"`     // of the dryer
	Depth       figure.Figure    `json:"depth"`           // of the heap
	Start       figure.Figure    `json:"start"`           // water in it now
	Limit       figure.Figure    `json:"limit"`           // wanted
	Rest        figure.Figure    `json:"rest"`            // water this dryer leaves after any time
	Time        figure.Figure    `json:"time"`            // in the dryer; plan for the high end
	Open        figure.Figure    `json:"open"`            // spread in the room's air until it is too wet again
	Figures     []figure.Figure  `json:"figures"`
	Steps       []answer.Step    `json:"steps"`
	Cautions    []answer.Caution `json:"cautions"`
	Charts      []answer.Chart   `json:"charts"`
	Draws       int              `json:"draws"`
	Seed        uint64           `json:"seed"`
	barred      bool             // it must not be dried at all
}

// ways are the ways a check tries, the commonest first.
var ways = []shop.Way{shop.Oven, shop.Dehydrator, shop.DesiccantBox, shop.DryAir}

// WayWords names them in a sentence.
var WayWords = map[shop.Way]string{shop.Oven: "in an oven", shop.Dehydrator: "in a food dehydrator", shop.DesiccantBox: "in a desiccant box",
	shop.DryAir: "in a dry-air dryer", shop.OtherWay: "in a dryer"}

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
	bad := func(field, format string, args ...any) error {
		return &shop.Error{Code: shop.Invalid, Field: field, Say: fmt.Sprintf(format, args...)}
	}
	if r.Draws < 1 || r.Draws > mostFitDraws {
		return bad("draws", "%d draws are outside 1 to %d.", r.Draws, mostFitDraws)
	}
	if _, ok := WayWords[r.Way]; !ok {
		return bad("way", "%q is no way to dry; it is oven, dehydrator, desiccant box or dry air.", r.Way)
	}
	for _, x := range []struct {
		v      *float64
		field  string
		name   string
		lo, hi float64
		kind   quantity.Kind
	}{
		{r.Temperature, "temperature_k", "dryer's temperature", 253.15, 473.15, quantity.Temperature},
		{r.Bed, "bed_m", "depth of the heap", 1e-3, 5, quantity.Length},
		{r.DewPoint, "dew_point_k", "dew point", 173.15, 333.15, quantity.Temperature},
		{r.Flow, "flow_m3_s", "air flow", 1e-6, 10, quantity.VolumeFlow},
		{r.Humidity, "humidity", "humidity of the box", 0, 1, quantity.Humidity},
		{r.Mass, "mass_kg", "mass", 1e-3, 1e3, quantity.Mass},
		{r.Start, "start", "water in it now", 0, 0.3, quantity.Share},
		{r.Limit, "limit", "water wanted", 1e-6, 0.1, quantity.Share},
	} {
		if x.v != nil && !(*x.v >= x.lo && *x.v <= x.hi) {
			return bad(x.field, "The %s of %s is outside %s.", x.name, x.kind.Show(*x.v), x.kind.Span(x.lo, x.hi))
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
			return &shop.Error{Code: shop.NotFound, Field: "lot", Say: fmt.Sprintf("There is no lot %s.", j.req.Lot), Hint: "The stock lists the lots."}
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
		return &shop.Error{Code: shop.NotFound, Field: "polymer", Say: answer.Sentence(err.Error())}
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
	b := estimate.Belief{Key: "softening", Name: "softening temperature", Kind: quantity.Temperature, Family: estimate.Normal,
		Median: soft, Low: soft - 3, High: soft + 3, Source: source.Ref{Key: "judgement", Place: "as the softest of the common plastics"}}
	if v, err := j.polymer.Value(polymer.Softening); err == nil {
		b.Low, b.High, b.Source = v.Low, v.High, v.Source
	}
	if b.Low == b.High {
		b.Family = estimate.Exact
	}
	return b
}
