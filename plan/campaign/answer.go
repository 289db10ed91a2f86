package campaign

import (
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/quantity"
	"hopperful/shop"
)

// Of is the answer to where a campaign stands at a moment. Without a plan of the
// rest it goes by what the last plan said, which the records hold.
func Of(s *shop.State, id shop.RecordID, now time.Time, a *Ahead) (answer.Document, error) {
	c, ok := s.Campaign(id)
	if !ok {
		return answer.Document{}, missing(id)
	}
	c = c.On(now)
	t := &told{state: s, c: c, a: a, now: now, next: a.next(c)}
	t.doc.Head = answer.Found(t.head(), t.wayOut()...)
	t.doc.Steps = t.steps()
	if c.Open() {
		t.figures()
	}
	t.worries()
	t.forecast()
	t.charges()
	return t.doc, nil
}

// Now is what goes on: every campaign, or what to do where none does.
func Now(s *shop.State, now time.Time) answer.Document {
	open := s.Campaigning()
	switch len(open) {
	case 0:
		return answer.Document{Head: answer.Found(fact.Say("campaign.none"), fact.Say("do.begin_campaign"))}
	case 1:
		doc, _ := Of(s, open[0].ID, now, nil) // it is there: the state just said so
		return doc
	}
	doc := answer.Document{Head: answer.Found(fact.Say("campaign.several", fact.Count("n", len(open))))}
	for _, c := range open {
		c = c.On(now)
		t := &told{state: s, c: c, now: now, next: c.Now}
		doc.Steps = append(doc.Steps, answer.Action{Do: t.goOn(), Why: t.head()})
	}
	return doc
}

// GoOn is the step that leads to a campaign, with what is done of it.
func GoOn(c shop.Campaign) answer.Action {
	t := &told{c: c}
	made, _ := c.Made()
	return answer.Action{Do: t.goOn(), Why: fact.Say("campaign.so_far", fact.Count("done", c.Done()), fact.Count("n", c.Planned()),
		fact.About("made", quantity.Mass, made), fact.Set("wanted", quantity.Mass, c.Wanted))}
}

// told is an answer on its way.
type told struct {
	state *shop.State
	c     shop.Campaign
	a     *Ahead
	now   time.Time
	next  shop.Cycle
	doc   answer.Document
}

func (t *told) mill() fact.Fact { return fact.Name("mill", t.c.Mill) }
func (t *told) id() fact.Fact   { return fact.Name("id", recordNumber(t.c.ID)) }

func (t *told) goOn() fact.Saying { return fact.Say("do.go_on_campaign", t.mill(), t.id()) }

// k and n are which charge it is, of how many.
func (t *told) k() fact.Fact { return fact.Count("k", t.c.Done()+1) }
func (t *told) n() fact.Fact {
	return fact.Count("n", t.c.Done()+max(1, t.next.Charges))
}

// charge, level and run are the next charge's; while one runs, its own.
func (t *told) charge() fact.Fact { return fact.Set("charge", quantity.Mass, t.cycle().Charge) }
func (t *told) run() fact.Fact    { return fact.Set("run", quantity.Duration, t.cycle().Run) }
func (t *told) level() fact.Fact {
	if l := t.cycle().Level; l != nil {
		return fact.Count("level", *l)
	}
	return fact.Name("level", "")
}

func (t *told) cycle() shop.Cycle {
	if t.c.Stage == shop.RunStage || t.c.Stage == shop.NoteStage {
		return t.c.Now
	}
	return t.next
}

// Rests is how long the mill has to stand yet before the next start [s], 0 when it
// may start.
func Rests(c shop.Campaign, next shop.Cycle, now time.Time) float64 {
	if c.Stopped.IsZero() {
		return 0
	}
	return max(0, c.Stopped.Add(seconds(next.Rest)).Sub(now).Seconds())
}

// Runs is how long the charge has to run yet [s], below 0 when its time is over.
func Runs(c shop.Campaign, now time.Time) float64 {
	return c.Started.Add(seconds(c.Now.Run)).Sub(now).Seconds()
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

// head is the answer: what goes on, and with which charge.
func (t *told) head() fact.Saying {
	c := t.c
	made, _ := c.Made()
	switch {
	case c.Stage == shop.BackedStage:
		return fact.Say("campaign.taken_back", t.mill())
	case c.Stage == shop.OverStage && !c.Enough():
		return fact.Say("campaign.ended_early", t.mill(), fact.About("made", quantity.Mass, made), fact.Set("wanted", quantity.Mass, c.Wanted))
	case c.Stage == shop.OverStage:
		return fact.Say("campaign.ended", t.mill(), fact.About("made", quantity.Mass, made))
	case c.Stage == shop.RunStage && Runs(c, t.now) > 0:
		return fact.Say("campaign.running", t.mill(), t.k(), t.n(), t.charge(), t.level(), fact.Set("left", quantity.Duration, whole(Runs(c, t.now))))
	case c.Stage == shop.RunStage:
		return fact.Say("campaign.time_over", t.mill(), t.k(), t.n(), t.run())
	case c.Stage == shop.NoteStage && c.Stalled:
		return fact.Say("campaign.note_stalled", t.mill(), t.k(), t.n())
	case c.Stage == shop.NoteStage:
		return fact.Say("campaign.note", t.mill(), t.k(), t.n())
	case c.Enough():
		return fact.Say("campaign.enough", fact.About("made", quantity.Mass, made), fact.Set("wanted", quantity.Mass, c.Wanted))
	case c.Paused:
		return fact.Say("campaign.paused", t.mill(), t.k(), t.n())
	case c.Stage == shop.SheetOpen:
		return t.lookOver()
	case t.a != nil && !t.a.Possible:
		return fact.Say("campaign.blocked", t.mill(), fact.About("made", quantity.Mass, made), fact.Set("wanted", quantity.Mass, c.Wanted))
	case Rests(c, t.next, t.now) > 0:
		return fact.Say("campaign.resting", t.mill(), t.k(), t.n(), t.charge(), t.level(), t.run(), fact.Set("left", quantity.Duration, whole(Rests(c, t.next, t.now))))
	}
	return fact.Say("campaign.ready", t.mill(), t.k(), t.n(), t.charge(), t.level(), t.run())
}

// lookOver asks for the sheet, and says why it comes again.
func (t *told) lookOver() fact.Saying {
	switch t.c.Again {
	case shop.NewDay:
		return fact.Say("campaign.sheet_day", t.mill(), t.k(), t.n())
	case shop.WorkedOn:
		return fact.Say("campaign.sheet_worked_on", t.mill(), t.k(), t.n())
	}
	return fact.Say("campaign.sheet", t.mill(), t.n())
}

// wayOut is what is left to do where no charge can be planned: in the words of the
// plan, whose room speaks for itself.
func (t *told) wayOut() []fact.Saying {
	if t.a == nil || t.a.Possible || !t.c.Open() || t.c.Enough() || t.a.Grinding.Blocked == nil {
		return nil
	}
	b := t.a.Grinding.Blocked
	return []fact.Saying{b.Why, b.Nearest}
}

func whole(s float64) float64 { return float64(int(s + 0.5)) }

// steps is what to do now, the next first.
func (t *told) steps() []answer.Action {
	do := func(s fact.Saying, why fact.Saying) []answer.Action { return []answer.Action{{Do: s, Why: why}} }
	end := answer.Action{Do: fact.Say("do.end_campaign", t.mill(), t.id())}
	c := t.c
	switch {
	case !c.Open():
		return nil
	case c.Stage == shop.RunStage:
		return do(fact.Say("do.stop_charge", t.mill(), t.id()), fact.Saying{})
	case c.Stage == shop.NoteStage:
		return do(fact.Say("do.record_charge", t.mill(), t.id(), t.k()), fact.Say("campaign.why_record"))
	case c.Enough():
		return do(end.Do, fact.Say("campaign.why_end"))
	case c.Paused:
		return append(do(fact.Say("do.resume_campaign", t.mill(), t.id()), fact.Saying{}), end)
	case c.Stage == shop.SheetOpen:
		return do(fact.Say("do.tick_sheet", t.mill(), t.id()), fact.Say("campaign.why_sheet"))
	case t.a != nil && !t.a.Possible:
		return []answer.Action{end}
	}
	return do(fact.Say("do.start_charge", t.mill(), t.id(), t.k(), t.n(), t.charge(), t.level()), t.moved())
}

// figures are what a person acts on at the mill.
func (t *told) figures() {
	c, n := t.c, t.cycle()
	planned := func(key, name string, kind quantity.Kind, v float64, of figure.Figure) figure.Figure {
		f := figure.Exact(key, name, kind, v, figure.Reckoned)
		switch {
		case t.a == nil || !t.a.Possible || c.Stage == shop.RunStage || c.Stage == shop.NoteStage:
		case t.a.Begun:
			f.Records = []int64{int64(c.ID)}
		default:
			f.How, f.Inputs = of.How, of.Inputs
		}
		return f
	}
	var g struct{ charge, run, rest, level figure.Figure }
	if t.a != nil && t.a.Possible {
		set := t.a.Grinding.Setting
		if g.charge, g.run, g.rest = set.Charge, set.Run, set.Rest; set.Level != nil {
			g.level = *set.Level
		}
	}
	t.doc.Figures = append(t.doc.Figures, planned("charge", "campaign.figure_charge", quantity.Mass, n.Charge, g.charge))
	if n.Level != nil {
		t.doc.Figures = append(t.doc.Figures, planned("level", "campaign.figure_level", quantity.Count, float64(*n.Level), g.level))
	}
	t.doc.Figures = append(t.doc.Figures,
		planned("run", "campaign.figure_run", quantity.Duration, n.Run, g.run),
		planned("rest", "campaign.figure_rest", quantity.Duration, n.Rest, g.rest), t.made())
	if total := t.still(); total.Value > 0 {
		total.Key, total.Name = "still", "campaign.figure_still"
		t.doc.Figures = append(t.doc.Figures, total)
	}
}

// still is the time from the first start that is left to the last stop.
func (t *told) still() figure.Figure {
	switch {
	case t.a == nil || !t.a.Possible:
		return figure.Figure{}
	case t.a.Begun:
		n := float64(t.next.Charges)
		f := figure.Exact("still", "campaign.figure_still", quantity.Duration, n*t.next.Run+(n-1)*t.next.Rest, figure.Reckoned).From("n·t_run + (n − 1)·t_rest")
		f.Records = []int64{int64(t.c.ID)}
		return f
	}
	return t.a.Grinding.Setting.Total
}

// made is what came out, against what is wanted.
func (t *told) made() figure.Figure {
	made, about := t.c.Made()
	f := figure.Exact("made", "campaign.figure_made", quantity.Mass, made, figure.Measured)
	for _, id := range t.c.Runs {
		f.Records = append(f.Records, int64(id))
	}
	if about {
		f.Basis, f.How = figure.Reckoned, "Σ product + Σ charge · (Σ product / Σ charge)"
	}
	holds := 0.0
	if t.c.Enough() {
		holds = 1
	}
	return f.Held(figure.Limit{Name: "campaign.limit_wanted", Value: t.c.Wanted, Side: figure.Over, Holds: holds})
}
