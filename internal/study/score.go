package study

import (
	"fmt"
	"math"
	"slices"

	"hopperful/internal/study/outside"
)

// Where a forecast is asked for.
type Where int

// The places: like the records, and far from them.
const (
	Near Where = iota
	HalfLevel
	SmallCharge
	LargeCharge
	places
)

// String names the place.
func (w Where) String() string {
	return [...]string{"like the records", "half the lowest level run", "charge × 0.45", "charge × 1.7"}[w]
}

// RecordCounts are the numbers of records after which makers are asked.
var RecordCounts = []int{0, 1, 3, 5, 10, 20}

// tasksNear is how many charges like the records are forecast.
const tasksNear = 3

// Score is how forecasts did at one number of records and one place.
type Score struct {
	Asked, Flagged int // forecasts, and those that say nothing on record supports them
	By             map[string]*Hits
	Pencil         []float64 // relative errors of charge × median yield so far
	Rows           []Row     // every forecast by itself
}

// Row is one forecast of one quantity beside what was read.
type Row struct {
	Of                    string
	Low, Mid, High, Truth float64
	Unit                  float64 // that errors are told in
	Far                   bool    // said that nothing on record supports it
}

// Hits is how the forecasts of one quantity did.
type Hits struct {
	Errors []float64 // relative, or in K for temperatures and as a share for fines
	Inside int       // of the 80 % range
	Below  int       // truth below it
}

// Median is the middle of the errors, NaN without one.
func (h *Hits) Median() float64 {
	if h == nil || len(h.Errors) == 0 {
		return math.NaN()
	}
	return medianOf(h.Errors)
}

// Cover is the share of truths in the range, NaN without one.
func (h *Hits) Cover() float64 {
	if h == nil || len(h.Errors) == 0 {
		return math.NaN()
	}
	return float64(h.Inside) / float64(len(h.Errors))
}

// Scores are by number of records, then by place.
type Scores map[int][places]*Score

func newScores() Scores {
	s := Scores{}
	for _, n := range RecordCounts {
		var row [places]*Score
		for w := range row {
			row[w] = &Score{By: map[string]*Hits{}}
		}
		s[n] = row
	}
	return s
}

// follow asks a maker at every count.
func (s Scores) follow(m *maker) error {
	asks := m.asking()
	for _, n := range RecordCounts {
		if err := m.records(n); err != nil {
			return err
		}
		for w := range places {
			for try := range asks.tasks(w) {
				set, ok := asks.setting(m, w, try)
				if !ok {
					continue
				}
				if err := s[n][w].ask(m, set, try == 0, n); err != nil {
					return fmt.Errorf("%v after %d records: %w", w, n, err)
				}
			}
		}
	}
	return nil
}

// asks are the settings like the records, the same at every count.
type asks struct{ near []outside.Setting }

func (m *maker) asking() asks {
	aside := *m // its own chance goes on undisturbed
	aside.chance = rng(m.mill.Face.Chamber, m.mill.Usual.Time)
	var a asks
	for range tasksNear {
		a.near = append(a.near, aside.practice(false))
	}
	return a
}

func (a asks) tasks(w Where) int {
	if w == Near {
		return len(a.near)
	}
	return 1
}

// setting is what is asked for; false where there is no such place.
func (a asks) setting(m *maker, w Where, try int) (outside.Setting, bool) {
	set := a.near[try]
	if w == Near {
		return set, true
	}
	set = m.mill.Usual
	switch w {
	case HalfLevel:
		if set.Level == 0 {
			return set, false
		}
		for _, r := range m.ran {
			set.Level = min(set.Level, r.Level)
		}
		set.Level = max(1, set.Level/2)
	case SmallCharge:
		set.Charge *= 0.45
	case LargeCharge:
		set.Charge *= 1.7
	}
	return m.feasible(set), true
}

// ask compares one forecast with what the mill would do.
func (s *Score) ask(m *maker, set outside.Setting, sizes bool, records int) error {
	mill := m.mill.Copy(rng(float64(records), set.Charge, set.Time, m.mill.Face.Chamber))
	mill.Cool()
	gave := mill.Run(set)
	if gave.Stalled {
		return nil
	}
	f, err := m.foresee(set, sizes)
	if err != nil {
		return err
	}
	s.Asked++
	if f.far {
		s.Flagged++
	}
	// What is forecast is what will be read, so it is held against a reading.
	reader := *m
	reader.chance = rng(float64(records), set.Charge, gave.Energy)
	product := reader.weigh(gave.Product)
	s.hold(f, ofProduct, product, max(product, 0.005))
	s.hold(f, ofWall, reader.warmth(mill.Shown(gave.Wall)), 1)
	if felt(gave) {
		s.hold(f, ofCharge, reader.warmth(gave.Charge-inside), 1)
	}
	s.hold(f, ofEnergy, reader.metered(gave.Energy), gave.Energy)
	s.hold(f, ofD50, gave.D50, gave.D50)
	s.hold(f, ofFines, gave.Fines, 1)
	if len(m.yields) > 0 {
		by := set.Charge * medianOf(m.yields)
		s.Pencil = append(s.Pencil, math.Abs(by-product)/max(product, 0.005))
		s.Rows = append(s.Rows, Row{Of: ofPencil, Mid: by, Truth: product, Unit: max(product, 0.005)})
	}
	return nil
}

// hold counts a forecast.
func (s *Score) hold(f foreseen, of string, truth, unit float64) {
	x, ok := f.said[of]
	if !ok {
		return
	}
	h := s.By[of]
	if h == nil {
		h = &Hits{}
		s.By[of] = h
	}
	h.Errors = append(h.Errors, math.Abs(x.mid-truth)/unit)
	s.Rows = append(s.Rows, Row{Of: of, Low: x.low, Mid: x.mid, High: x.high, Truth: truth, Unit: unit, Far: f.far})
	switch {
	case truth < x.low:
		h.Below++
	case truth <= x.high:
		h.Inside++
	}
}

// Outside follows the makers of the seeds and scores their forecasts.
func Outside[S outside.Seed](seeds []S) (Scores, Entries, error) {
	scores, entries := newScores(), Entries{}
	for _, seed := range seeds {
		m, err := newMaker(seed)
		if err == nil {
			err = scores.follow(m)
		}
		if err != nil {
			return nil, entries, fmt.Errorf("mill %d: %w", seed, err)
		}
		entries.add(m)
	}
	return scores, entries, nil
}

// Entries is what the shop said of the records offered.
type Entries struct {
	Honest  int      // without a slip
	Refused []string // of them, and why
	Doubted []string // of them, asked about
	Slips   int
	Caught  int // not taken in, or asked about at once
}

func (e *Entries) add(m *maker) {
	e.Honest += m.honest
	e.Refused = append(e.Refused, m.refused...)
	e.Doubted = append(e.Doubted, m.doubted...)
	e.Slips += len(m.slips)
	for _, s := range m.slips {
		if s.record == 0 {
			e.Caught++
		}
	}
}

// join adds other entries.
func (e *Entries) join(o Entries) {
	e.Honest, e.Slips, e.Caught = e.Honest+o.Honest, e.Slips+o.Slips, e.Caught+o.Caught
	e.Refused = append(e.Refused, o.Refused...)
	e.Doubted = append(e.Doubted, o.Doubted...)
}

// medianOf is the middle of values.
func medianOf(v []float64) float64 {
	sorted := slices.Clone(v)
	slices.Sort(sorted)
	return middle(sorted)
}
