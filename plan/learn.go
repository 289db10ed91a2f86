package plan

import (
	"fmt"
	"math"
	"slices"
	"time"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/figure"
	"hopperful/quantity"
	"hopperful/shop"
)

// Learning is everything a mill's own records have taught.
type Learning struct {
	Mill        string      `json:"mill"`
	Answer      string      `json:"answer"` // in a sentence
	Runs        int         `json:"runs"`
	Parameters  []Learned   `json:"parameters"`
	Forecasts   []Compared  `json:"forecasts"` // the last runs, newest first, each against what all the others say
	Calibration Calibration `json:"calibration"`
	Suspicious  []Suspicion `json:"suspicious"`
	Changed     *Changed    `json:"changed,omitempty"` // a sudden change that nobody wrote down
	Unread      []Unread    `json:"unread"`
	Wear        Wear        `json:"wear"`
}

// Learned is one parameter, from the book's range to what is believed now.
type Learned struct {
	Polymer string        `json:"polymer,omitempty"` // empty: of the mill
	Book    figure.Figure `json:"book"`
	Now     figure.Figure `json:"now"`
	Moved   []Mover       `json:"moved"` // the records that moved it most
}

// Mover is a record that moved a parameter.
type Mover struct {
	Record int64   `json:"record"`
	By     float64 `json:"by"` // standard deviations of the book's range
}

// Compared is a run's forecast beside what was measured.
type Compared struct {
	Record  int64      `json:"record"`
	At      time.Time  `json:"at"`
	Stalled bool       `json:"stalled,omitempty"`
	Runs    int        `json:"runs"`          // the shop's runs behind the forecast
	Far     bool       `json:"far,omitempty"` // like nothing on record before it
	Read    []Readback `json:"read"`
}

// Readback is one reading against its forecast.
type Readback struct {
	Forecast figure.Figure `json:"forecast"`
	Actual   figure.Figure `json:"actual"`
	Inside   bool          `json:"inside"` // of the 10–90 % range
}

// Calibration says how often readings lay where they should.
type Calibration struct {
	Readings int           `json:"readings"`
	Inside   figure.Figure `json:"inside"` // share inside the 80 % range
	Ranks    []float64     `json:"ranks"`  // where each reading lay in its forecast, 0 to 1, rising
	Verdict  string        `json:"verdict"`
}

// Suspicion is a reading that looks like a slip of the pen. It is kept.
type Suspicion struct {
	Record int64         `json:"record"`
	Read   figure.Figure `json:"read"`
	Should figure.Figure `json:"should"`
	Weight float64       `json:"weight"` // the pull it is left with, 1 for a reading without doubt
	Say    string        `json:"say"`
}

// Changed is a sudden change of the mill that is asked about.
type Changed struct {
	Since       int64         `json:"since"`       // record of the first run after it
	Probability float64       `json:"probability"` // that there was one
	Rate        figure.Figure `json:"rate"`        // break rate since, over that before
	Records     []int64       `json:"records"`     // runs since
	Say         string        `json:"say"`
}

// lastRuns is how many runs are shown against their forecast.
const lastRuns = 12

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
		l.Unread = append(l.Unread, Unread{skip.Record, answer.Sentence(skip.Why)})
	}
	l.Unread = append(l.Unread, log.unread...)
	l.parameters(log, fitted, m.Mill)
	checked := fitted.Without()
	l.compare(log, checked)
	l.calibrate(checked)
	l.suspect(log, checked)
	l.changed(log, fitted)
	if l.Wear, err = wearOf(log, fitted, m.Mill); err != nil {
		return l, err
	}
	l.Answer = l.sentence()
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
	estimate.OfProduct: {"product", "product", quantity.Mass},
	estimate.OfLeft:    {"left", "left in the mill", quantity.Mass},
	estimate.OfWall:    {"wall_after", "wall at the end", quantity.Temperature},
	estimate.OfCharge:  {"charge_after", "charge at the end", quantity.Temperature},
	estimate.OfCooling: {"wall_before", "wall after the rest", quantity.Temperature},
	estimate.OfEnergy:  {"energy", "electricity", quantity.Energy},
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
	forecast := figure.Figure{Key: as.key, Name: as.name, Kind: as.kind, Value: middle, Low: low, High: high, Basis: figure.Reckoned}
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

// compare shows the last runs against what all the others say.
func (l *Learning) compare(log *logbook, checked []estimate.Checked) {
	for i := len(log.runs) - 1; i >= 0 && len(l.Forecasts) < lastRuns; i-- {
		r := log.runs[i]
		c := Compared{Record: r.Record, At: log.times[r.Record], Stalled: r.Stalled, Runs: l.Runs - 1, Read: []Readback{}}
		for _, one := range checked {
			if one.Record != r.Record {
				continue
			}
			if b, ok := figures(one, l.Runs-1); ok {
				c.Read = append(c.Read, b)
			}
		}
		if len(c.Read) > 0 || r.Stalled {
			l.Forecasts = append(l.Forecasts, c)
		}
	}
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
	by := "all other runs say"
	if l.Runs < 2 { // there are none
		by = "the books say"
	}
	c.Inside = figure.Exact("inside_range", "readings inside their 80 % range", quantity.Share, share, figure.Reckoned).
		From("share of readings between the 10 % and 90 % ends of what " + by + " of them")
	c.Verdict = verdictOn(share, len(checked), l.Runs)
	l.Calibration = c
}

// fewForecasts is how many runs it takes to say how good forecasts are. Judgement:
// of nine, one more or less inside moves the share by 11 points.
const fewForecasts = 10

// verdictOn says whether ranges hold as often as they say. Readings of one run are
// not independent, so a share is judged by runs, at two standard deviations.
func verdictOn(share float64, readings, runs int) string {
	doubt := 2 * math.Sqrt(0.16/math.Max(1, float64(runs)))
	held := fmt.Sprintf("%s of %d readings lay in their 80 %% range", quantity.Share.Plain(share), readings)
	switch {
	case readings == 0:
		return "Nothing has been measured yet."
	case runs < fewForecasts:
		return fmt.Sprintf("Too few to tell: %s, of %s; it takes %d.", held, runsWord(runs), fewForecasts)
	case share < 0.8-doubt:
		return fmt.Sprintf("Too narrow: %s. Something varies from run to run that nobody writes down; the ranges are widened for it.", held)
	case share > 0.8+doubt:
		return fmt.Sprintf("Too wide: %s. The forecasts are more careful than they need be, and narrow with more runs.", held)
	}
	return fmt.Sprintf("As they should: %s.", held)
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
		day := log.times[c.Record].Format("2 Jan 2006 15:04")
		l.Suspicious = append(l.Suspicious, Suspicion{Record: c.Record, Read: b.Actual, Should: b.Forecast, Weight: c.Weight,
			Say: fmt.Sprintf("Record %d of %s says %s %s; the other runs expect %s. Look at it again; it is kept, and pulls with %s of its weight.",
				c.Record, day, b.Actual.Name, b.Actual.Shown(), b.Forecast.ShownRange(), quantity.Share.Rough(c.Weight))})
	}
}

// changed asks about a sudden change.
func (l *Learning) changed(log *logbook, f *estimate.Fitted) {
	c, ok := f.Change()
	if !ok {
		return
	}
	rate := figure.Figure{Key: "rate_since", Name: "break rate since, over that before", Kind: quantity.Share, Value: c.Factor, Low: c.Low, High: c.High, Basis: figure.Reckoned}
	rate.Records = c.Records
	way, by := "slower", 1-c.Factor
	if c.Factor > 1 {
		way, by = "faster", c.Factor-1
	}
	l.Changed = &Changed{Since: c.Since, Probability: c.Probability, Rate: rate.LearnedFrom(len(c.Records)), Records: c.Records,
		Say: fmt.Sprintf("Since record %d of %s it grinds about %s %s: blade, screen, other scrap? If something was changed, write it down as service.",
			c.Since, log.times[c.Since].Format("2 Jan 2006"), quantity.Share.Rough(by), way)}
}

// sentence sums the learning up.
func (l *Learning) sentence() string {
	if l.Runs == 0 {
		return fmt.Sprintf("No run of %s is on record; everything is from books.", l.Mill)
	}
	learned := 0
	for _, p := range l.Parameters {
		if p.Now.Runs > 0 {
			learned++
		}
	}
	have := "have"
	if l.Runs == 1 {
		have = "has"
	}
	text := fmt.Sprintf("%s %s taught something of %d of %d parameters of %s.", runsWord(l.Runs), have, learned, len(l.Parameters), l.Mill)
	switch n := len(l.Suspicious); {
	case n == 1:
		text += " One reading looks like a slip."
	case n > 1:
		text += fmt.Sprintf(" %d readings look like slips.", n)
	}
	if l.Changed != nil {
		text += " " + l.Changed.Say
	}
	return text
}

func runsWord(n int) string {
	if n == 1 {
		return "1 run"
	}
	return fmt.Sprintf("%d runs", n)
}
