package plan

import (
	"math"
	"slices"
	"time"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/quantity"
	"hopperful/shop"
)

// Learning is everything a mill's own records have taught.
type Learning struct {
	Mill        string
	Runs        int
	Parameters  []Learned
	Forecasts   []Compared // the last runs, newest first, each against what the records before it foretold
	Calibration Calibration
	Suspicious  []Suspicion
	Changed     *Changed // a sudden change that nobody wrote down
	Unread      []Unread
	Wear        Wear
}

// Learned is one parameter, from the book's range to what is believed now.
type Learned struct {
	Polymer string // empty: of the mill
	Book    figure.Figure
	Now     figure.Figure
	Moved   []Mover // the records that moved it most
}

// Mover is a record that moved a parameter.
type Mover struct {
	Record int64
	By     float64 // standard deviations of the book's range
}

// Compared is a run's forecast beside what was measured.
type Compared struct {
	Record  int64
	At      time.Time
	Stalled bool
	Runs    int  // the shop's runs behind the forecast
	Far     bool // like nothing on record before it
	Read    []Readback
}

// Readback is one reading against its forecast.
type Readback struct {
	Forecast figure.Figure
	Actual   figure.Figure
	Inside   bool // of the 10–90 % range
}

// Calibration says how often readings lay where they should.
type Calibration struct {
	Readings int
	Inside   figure.Figure // share inside the 80 % range
	Ranks    []float64     // where each reading lay in its forecast, 0 to 1, rising
	Verdict  fact.Saying
}

// Suspicion is a reading that looks like a slip of the pen. It is kept.
type Suspicion struct {
	Record int64
	Read   figure.Figure
	Should figure.Figure
	Weight float64 // the pull it is left with, 1 for a reading without doubt
	Says   answer.Finding
}

// Changed is a sudden change of the mill that is asked about.
type Changed struct {
	Since       int64         // record of the first run after it
	Probability float64       // that there was one
	Rate        figure.Figure // break rate since, over that before
	Records     []int64       // runs since
	Says        answer.Finding
}

// lastRuns is how many runs are shown against their forecast: each takes a fit of
// its own, of the records before it.
const lastRuns = 4

// Learn tells what the records of a mill have taught: of the mill itself and of
// every polymer it has ground.
func Learn(s *shop.State, mill string) (Learning, error) {
	m, err := PickMill(s, mill)
	if err != nil {
		return Learning{}, err
	}
	log, err := readLog(s, m.Mill, 0)
	if err != nil {
		return Learning{}, err
	}
	fitted, err := log.fit()
	if err != nil {
		return Learning{}, err
	}
	l := Learning{Mill: m.Name, Runs: len(log.runs) - len(fitted.Skipped), Parameters: []Learned{}, Forecasts: []Compared{},
		Suspicious: []Suspicion{}, Unread: []Unread{}}
	for _, skip := range fitted.Skipped {
		l.Unread = append(l.Unread, Unread{skip.Record, unread(skip), false})
	}
	l.Unread = append(l.Unread, log.unread...)
	l.parameters(log, fitted, m.Mill)
	checked := fitted.Without()
	if err := l.compare(s, log); err != nil {
		return l, err
	}
	l.calibrate(checked)
	l.suspect(log, checked)
	l.changed(log, fitted)
	if l.Wear, err = wearOf(log, fitted, m.Mill); err != nil {
		return l, err
	}
	return l, nil
}

// mostMovers is how many records are named beside a parameter.
const mostMovers = 3

// ofPolymer are the parameters told for each polymer, ofMill those told once.
var (
	ofPolymer = []estimate.Param{estimate.Toughness, estimate.SpecificHeat}
	ofMill    = []estimate.Param{estimate.BreakRate, estimate.SizeExponent, estimate.FineShare, estimate.FineSlope, estimate.CoarseSlope,
		estimate.RotorReach, estimate.RotorSharpness, estimate.Discharge, estimate.Hindrance, estimate.Hole, estimate.OpenShare, estimate.HoldMass,
		estimate.PowerScale, estimate.IdleShare, estimate.PieceShare, estimate.Dust, estimate.HeatShare, estimate.Film,
		estimate.WallCapacity, estimate.WallLoss, estimate.LidFactor, estimate.StallShift}
)

// parameters lists what is believed, before and after.
func (l *Learning) parameters(log *logbook, f *estimate.Fitted, m shop.Mill) {
	var names []string
	for name := range log.setup.Priors {
		names = append(names, name)
	}
	slices.Sort(names)
	add := func(polymer string, priors estimate.Beliefs, t estimate.Target, params []estimate.Param) {
		after := f.Beliefs(priors, t)
		for _, p := range params {
			one := Learned{Polymer: polymer, Book: belief(&priors, p), Now: belief(&after, p), Moved: []Mover{}}
			for _, x := range f.Movers(p, t, mostMovers) {
				one.Moved = append(one.Moved, Mover{x.Record, x.By})
			}
			l.Parameters = append(l.Parameters, one)
		}
	}
	for i, name := range names {
		t := estimate.Target{Polymer: name, Screen: log.sheet(m.Screen.Hole), Chapter: log.chapter, Since: log.since}
		if i == 0 {
			add("", log.setup.Priors[name], t, ofMill)
			l.levels(log, f, m, log.setup.Priors[name])
		}
		add(name, log.setup.Priors[name], t, ofPolymer)
	}
}

// reads says what each kind of reading is called and measured in.
var reads = map[estimate.Quantity]struct {
	key, name string
	kind      quantity.Kind
}{
	estimate.OfProduct: {"product", "learn.product", quantity.Mass},
	estimate.OfLeft:    {"left", "learn.left", quantity.Mass},
	estimate.OfWall:    {"wall_after", "learn.wall", quantity.Temperature},
	estimate.OfCharge:  {"charge_after", "learn.charge", quantity.Temperature},
	estimate.OfCooling: {"wall_before", "learn.cooling", quantity.Temperature},
	estimate.OfEnergy:  {"energy", "learn.energy", quantity.Energy},
}

// figures puts a reading and its forecast side by side.
func figures(c estimate.Checked, runs int) (Readback, bool) {
	as, ok := reads[c.Of]
	if !ok {
		return Readback{}, false
	}
	low, high := c.Range(eighty)
	middle := c.Expected
	if as.kind == quantity.Mass || as.kind == quantity.Energy { // none is below nothing
		low, middle, high = math.Max(low, 0), math.Max(middle, 0), math.Max(high, 0)
	}
	forecast := figure.Figure{Key: as.key, Name: as.name, Kind: as.kind, Value: middle, Low: low, High: high, Basis: figure.Books}
	if runs > 0 {
		forecast = forecast.LearnedFrom(runs)
	}
	actual := figure.Exact(as.key, as.name, as.kind, c.Value, figure.Measured)
	actual.Records = []int64{c.Record}
	return Readback{Forecast: forecast, Actual: actual, Inside: c.Value >= low && c.Value <= high}, true
}

// eighty is the standard normal quantile of 90 %: the middle 80 % of a normal
// lie within it.
const eighty = 1.2815515655446004

// compare shows the last runs against what the records before each foretold.
func (l *Learning) compare(s *shop.State, log *logbook) error {
	for i := len(log.runs) - 1; i >= 0 && len(l.Forecasts) < lastRuns; i-- {
		c, err := Compare(s, shop.RecordID(log.runs[i].Record))
		if err != nil {
			return err
		}
		if len(c.Read) > 0 || c.Stalled {
			l.Forecasts = append(l.Forecasts, c)
		}
	}
	return nil
}

// calibrate counts how many readings lay inside the range forecast for them.
func (l *Learning) calibrate(checked []estimate.Checked) {
	c := Calibration{Readings: len(checked), Ranks: []float64{}}
	inside := 0
	for _, one := range checked {
		if math.Abs(one.Deviation()) <= eighty {
			inside++
		}
		c.Ranks = append(c.Ranks, 0.5*math.Erfc(-one.Deviation()/math.Sqrt2))
	}
	slices.Sort(c.Ranks)
	share, n := 0.8, float64(max(len(checked), 1))
	if len(checked) > 0 {
		share = float64(inside) / n
	}
	how := "learn.inside_by_runs"
	if l.Runs < 2 { // there are none
		how = "learn.inside_by_books"
	}
	c.Inside = figure.Exact("inside_range", "learn.inside_range", quantity.Share, share, figure.Reckoned).From(how)
	c.Verdict = verdictOn(share, len(checked), l.Runs)
	l.Calibration = c
}

// fewForecasts is how many runs it takes to say how good forecasts are. Judgement:
// of nine, one more or less inside moves the share by 11 points.
const fewForecasts = 10

// verdictOn says whether ranges hold as often as they say. Readings of one run are
// not independent, so a share is judged by runs, at two standard deviations.
func verdictOn(share float64, readings, runs int) fact.Saying {
	slack := 2 * math.Sqrt(0.16/math.Max(1, float64(runs)))
	inside, n := fact.Count("inside", int(math.Round(share*float64(readings)))), fact.Count("n", readings)
	switch {
	case readings == 0:
		return fact.Say("learn.nothing_measured")
	case runs < fewForecasts:
		return fact.Say("learn.too_few", fact.Count("runs", runs), inside.As("inside"), n.As("n"), fact.Count("least", fewForecasts))
	case share < 0.8-slack:
		return fact.Say("learn.too_narrow", inside.As("inside"), n.As("n"))
	case share > 0.8+slack:
		return fact.Say("learn.too_wide", inside.As("inside"), n.As("n"))
	}
	return fact.Say("learn.as_they_should", inside.As("inside"), n.As("n"))
}

// suspect names the readings that look like slips.
func (l *Learning) suspect(log *logbook, checked []estimate.Checked) {
	for _, c := range checked {
		if !c.Suspicious() {
			continue
		}
		b, ok := figures(c, l.Runs-1)
		if !ok {
			continue
		}
		at := fact.Moment("at", log.times[c.Record])
		l.Suspicious = append(l.Suspicious, Suspicion{Record: c.Record, Read: b.Actual, Should: b.Forecast, Weight: c.Weight,
			Says: answer.Found(fact.Say("learn.slip", fact.Count("record", int(c.Record)), at.As("at"), fact.Word("what", b.Actual.Name), fact.Figure("read", b.Actual), fact.Figure("should", b.Forecast)),
				fact.Say("learn.slip_kept", fact.About("weight", quantity.Share, c.Weight)))})
	}
}

// changed asks about a sudden change.
func (l *Learning) changed(log *logbook, f *estimate.Fitted) {
	c, ok := f.Change()
	if !ok {
		return
	}
	rate := figure.Figure{Key: "rate_since", Name: "learn.rate_since", Kind: quantity.Share, Value: c.Factor, Low: c.Low, High: c.High, Basis: figure.Reckoned}
	rate.Records = c.Records
	l.Changed = &Changed{Since: c.Since, Probability: c.Probability, Rate: rate.LearnedFrom(len(c.Records)), Records: c.Records,
		Says: answer.Found(pace(c, log.times[c.Since]), fact.Say("learn.write_change"))}
}

// pace says by how much a mill grinds slower or faster since a change.
func pace(c estimate.Change, at time.Time) fact.Saying {
	since, when, chance := fact.Count("record", int(c.Since)), fact.Moment("at", at), fact.About("chance", quantity.Share, c.Probability)
	if c.Factor > 1 {
		return fact.Say("learn.faster", since.As("record"), when.As("at"), fact.About("by", quantity.Share, c.Factor-1), chance.As("chance"))
	}
	return fact.Say("learn.slower", since.As("record"), when.As("at"), fact.About("by", quantity.Share, 1-c.Factor), chance.As("chance"))
}
