package plan

import (
	"maps"
	"slices"
	"sort"
	"strings"
	"time"

	"hopperful/shop"
)

// What happened to a mill before the runs that a plan learns from is counted, and
// carried on. A fit learns from some sixty runs that tell different things, so that
// those from thousands of runs ago hardly add to it; and reading them takes seconds.

// A log begins at the last of the marks that leaves at least learntFrom runs after it;
// there is one every markEvery runs. Judgement.
const (
	learntFrom = shop.Lately
	markEvery  = 256
)

// tally is what had happened to a mill.
type tally struct {
	count   int           // runs so far
	chapter int           // blades so far
	since   float64       // ground on the blade that is in [kg]
	sheets  int           // screens replaced or mended so far
	today   string        // of the latest run that can be learned from
	days    int           // on which the mill ran
	ofDay   int           // runs of the latest day
	climate               // of the room
	unsure  bool          // the latest run cannot be learned from
	last    shop.RecordID // the latest that can, 0 for none
	looked  shop.RecordID // the latest look at a part of the mill, 0 for none
	lastAt  time.Time
}

// mark is what had happened before a run.
type mark struct {
	before shop.RecordID
	tally
}

// marked is a mill with its marks.
type marked struct {
	now   tally
	marks []mark
}

// tallied are the kinds of records that count.
var tallied = []shop.Body{(*shop.Ground)(nil), (*shop.MillSet)(nil), (*shop.Serviced)(nil)}

var marks = shop.Carry("runs", markRun, copiedMarks, tallied...)

func copiedMarks(all *map[string]marked) map[string]marked {
	out := maps.Clone(*all)
	for name, m := range out {
		m.marks = slices.Clip(m.marks)
		out[name] = m
	}
	return out
}

// markRun counts a record for the mill it is about.
func markRun(all *map[string]marked, s *shop.State, r shop.Record) {
	var mill string
	switch b := r.Body.(type) {
	case *shop.Ground:
		mill = b.Mill
	case *shop.MillSet:
		mill = b.Mill.Name
	case *shop.Serviced:
		mill = b.Mill
	}
	if *all == nil {
		*all = map[string]marked{}
	}
	m := (*all)[mill]
	if _, ground := r.Body.(*shop.Ground); ground && m.now.count > 0 && m.now.count%markEvery == 0 {
		m.marks = append(m.marks, mark{r.ID, m.now})
	}
	m.now.take(s, mill, r)
	(*all)[mill] = m
}

// begin sets the logbook to the mark that the latest of so many records are read from,
// and says where that is, and which run was the last before it.
func (l *logbook) begin(s *shop.State, mill string, end int) (from int, last *shop.Ground, at time.Time) {
	m, ok := s.Mill(mill)
	if !ok {
		return 0, nil, at
	}
	runs := sort.Search(len(m.Runs), func(i int) bool {
		place, _ := s.Records.Place(m.Runs[i])
		return place >= end
	})
	list := (*marks.Of(s))[mill].marks
	k := sort.Search(len(list), func(i int) bool { return list[i].count > runs-learntFrom })
	if k == 0 {
		return 0, nil, at
	}
	l.tally = list[k-1].tally
	if r, ok := s.Record(l.last); ok {
		last, _ = r.Body.(*shop.Ground)
	}
	from, _ = s.Records.Place(list[k-1].before)
	return from, last, l.lastAt
}

// take counts a record if it is about the mill.
func (t *tally) take(s *shop.State, mill string, r shop.Record) {
	switch b := r.Body.(type) {
	case *shop.Serviced:
		if b.Mill == mill {
			t.service(b)
			t.looked = r.ID
		}
	case *shop.MillSet:
		if b.Mill.Name == mill {
			t.changed(s.Changed(r.ID))
		}
	case *shop.Ground:
		if b.Mill == mill {
			t.ran(s, r, b)
		}
	}
}

// ran counts a run.
func (t *tally) ran(s *shop.State, r shop.Record, b *shop.Ground) {
	t.count++
	sound, usable := s.Believed(r, b)
	if t.unsure = !usable; t.unsure {
		return
	}
	rested := r.At.Sub(t.lastAt)
	if t.last == 0 {
		rested = -1
	}
	t.read(r.ID, &sound, rested)
	if day := r.At.Format(time.DateOnly); day != t.today {
		t.today, t.days, t.ofDay = day, t.days+1, 0
	}
	t.ofDay++
	t.since += b.Charge
	t.last, t.lastAt = r.ID, r.At
}

// service begins a new chapter where the blade or the screen is not what it
// was.
func (t *tally) service(b *shop.Serviced) {
	if b.What == shop.Inspected || b.What == shop.FoundDamaged {
		return
	}
	switch b.Part {
	case shop.BladePart:
		t.chapter++
		t.since = 0
	case shop.ScreenPart:
		t.sheets++
	}
}

// changed begins a new chapter where another rotor or screen was put in: runs
// before it were ground with the old one. A screen of another hole has a name of
// its own, and put back it is known again.
func (t *tally) changed(properties []string) {
	rotor, hole, sheet := false, false, false
	for _, p := range properties {
		rotor = rotor || strings.HasPrefix(p, "rotor_")
		hole = hole || p == "screen.hole_m"
		sheet = sheet || p == "screen.open_share"
	}
	if rotor {
		t.chapter++
		t.since = 0
	}
	if sheet && !hole {
		t.sheets++
	}
}
