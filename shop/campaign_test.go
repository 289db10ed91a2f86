package shop

import (
	"errors"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// campaigning is the bench with a campaign of PETG begun on its plain mill.
func campaigning(t testing.TB) (*State, RecordID) {
	t.Helper()
	s := write(t, bench(t), Record{Body: begun("plain")})
	return s, s.Newest().ID
}

func begun(mill string) *CampaignBegun {
	return &CampaignBegun{Mill: mill, Polymer: "PETG", Needs: []string{"hook"}, Wanted: 0.2, Cycle: Cycle{Charge: 0.09, Run: 60, Rest: 300, Charges: 3}, Key: "a1"}
}

// ran is a run of S2 on that mill.
func ran(charge float64, product *float64) *Ground {
	return &Ground{Mill: "plain", From: "S2", Into: "R9", Charge: charge, Product: product, Run: 60}
}

// TestWhereACampaignStands goes through what may happen, in any order in which
// people and devices say it.
func TestWhereACampaignStands(t *testing.T) {
	t.Parallel()
	all := SheetItems()
	for _, c := range []struct {
		name  string
		says  []any // a mark, the lines of the sheet, or a run
		stage Stage
		done  int
		left  int
		pause bool
	}{
		{"begun", nil, SheetOpen, 0, 3, false},
		{"half the sheet", []any{all[:4]}, SheetOpen, 0, 3, false},
		{"the sheet in two parts", []any{all[:4], all[3:]}, ReadyStage, 0, 3, false},
		{"the sheet skipped", []any{SheetSkipped}, ReadyStage, 0, 3, false},
		{"running", []any{SheetSkipped, RunStarted}, RunStage, 0, 3, false},
		{"started by two devices", []any{SheetSkipped, RunStarted, RunStarted}, RunStage, 0, 3, false},
		{"stopped", []any{SheetSkipped, RunStarted, RunStopped}, NoteStage, 0, 3, false},
		{"stopped before it started", []any{SheetSkipped, RunStopped}, ReadyStage, 0, 3, false},
		{"stalled", []any{SheetSkipped, RunStarted, RunStalled, RunStopped}, NoteStage, 0, 3, false},
		{"recorded", []any{SheetSkipped, RunStarted, RunStopped, ran(0.09, kg(0.08))}, ReadyStage, 1, 2, false},
		{"recorded without a touch", []any{ran(0.09, kg(0.08))}, ReadyStage, 1, 2, false},
		{"of another plastic", []any{SheetSkipped, &Ground{Mill: "plain", From: "S3", Charge: 0.05, Run: 60}}, ReadyStage, 0, 3, false},
		{"in another mill", []any{SheetSkipped, &Ground{Mill: "shredder", From: "S2", Charge: 0.05, Run: 60}}, ReadyStage, 0, 3, false},
		{"paused", []any{SheetSkipped, PausedMark}, ReadyStage, 0, 3, true},
		{"never while it turns", []any{SheetSkipped, RunStarted, PausedMark}, RunStage, 0, 3, false},
		{"resumed", []any{SheetSkipped, PausedMark, ResumedMark}, ReadyStage, 0, 3, false},
		{"a start resumes", []any{SheetSkipped, PausedMark, RunStarted}, RunStage, 0, 3, false},
		{"ended", []any{SheetSkipped, EndedMark, RunStarted}, OverStage, 0, 3, false},
		{"taken back", []any{TakenBackMark}, BackedStage, 0, 3, false},
		{"a run after the end", []any{EndedMark, ran(0.09, kg(0.08))}, OverStage, 0, 3, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			s, id := campaigning(t)
			s = write(t, s, Record{Body: &TakenIn{Lot: "S3", Class: Scrap, Polymer: "PLA", Mass: 0.5}})
			for _, x := range c.says {
				switch x := x.(type) {
				case Mark:
					s = write(t, s, Record{Body: &CampaignMarked{Campaign: id, What: x}})
				case []SheetItem:
					s = write(t, s, Record{Body: &CampaignMarked{Campaign: id, What: SheetTicked, Ticked: x}})
				case *Ground:
					s = write(t, s, Record{Body: x})
				}
			}
			got, ok := s.Campaign(id)
			if !ok || got.Stage != c.stage || got.Done() != c.done || got.Now.Charges != c.left || got.Paused != c.pause {
				t.Errorf("it stands at %s, %d done, %d left, paused %t; want %s, %d, %d, %t", got.Stage, got.Done(), got.Now.Charges, got.Paused, c.stage, c.done, c.left, c.pause)
			}
			if _, open := s.Running("plain"); open != (c.stage != OverStage && c.stage != BackedStage) {
				t.Errorf("it goes on: %t", open)
			}
			if !sameState(s, mustFold(t, s.History.List())) {
				t.Error("folding the history again gives another state")
			}
		})
	}
}

// TestWhatACampaignMade: masses worked by hand. Two charges of 90 g gave 81 g and
// 72 g, 0.85 of what went in; a third of 60 g was not weighed and counts for 51 g.
func TestWhatACampaignMade(t *testing.T) {
	t.Parallel()
	s, id := campaigning(t)
	s = write(t, s, Record{Body: ran(0.09, kg(0.081))}, Record{Body: ran(0.09, kg(0.072))})
	c, _ := s.Campaign(id)
	made, about := c.Made()
	wantMass(t, "made", made, 0.153)
	if about || c.Enough() || c.Into != "R9" {
		t.Errorf("about %t, enough %t, into %s", about, c.Enough(), c.Into)
	}
	second := s.Newest().ID
	s = write(t, s, Record{Body: ran(0.06, nil)})
	c, _ = s.Campaign(id)
	made, about = c.Made()
	wantMass(t, "made, one not weighed", made, 0.204)
	if !about || !c.Enough() || c.Planned() != 3 {
		t.Errorf("about %t, enough %t, planned %d", about, c.Enough(), c.Planned())
	}
	// More out than can have been in is asked about, and not counted on before.
	slip := write(t, s, Record{Body: ran(0.09, kg(9))})
	if c, _ := slip.Campaign(id); c.Out > 0.2 || c.Unweighed != 2 {
		t.Errorf("with a slip %g kg came out, %d not weighed", c.Out, c.Unweighed)
	}
	// A corrected charge corrects the sum, a struck out one is as never run.
	s = write(t, s, Record{Corrects: second, Body: ran(0.09, kg(0.027))})
	c, _ = s.Campaign(id)
	wantMass(t, "weighed, corrected", c.Out, 0.108)
	s = write(t, s, Record{Corrects: second, Body: &Void{}})
	c, _ = s.Campaign(id)
	wantMass(t, "weighed, struck out", c.Out, 0.081)
	if c.Done() != 2 {
		t.Errorf("%d are done", c.Done())
	}
}

// TestCampaignRefusals: one for each mill, and none without its record.
func TestCampaignRefusals(t *testing.T) {
	t.Parallel()
	s, id := campaigning(t)
	for name, c := range map[string]struct {
		body Body
		code Code
	}{
		"a second on the mill": {&CampaignBegun{Mill: "plain", Polymer: "PLA", Wanted: 0.1, Cycle: begun("").Cycle}, Conflict},
		"no plastic":           {&CampaignBegun{Mill: "shredder", Wanted: 0.1, Cycle: begun("").Cycle}, Invalid},
		"no such mill":         {&CampaignBegun{Mill: "none", Polymer: "PLA", Wanted: 0.1, Cycle: begun("").Cycle}, NotFound},
		"nothing wanted":       {&CampaignBegun{Mill: "shredder", Polymer: "PLA", Cycle: begun("").Cycle}, Invalid},
		"the same sent again":  {begun("shredder"), Repeated},
		"no such campaign":     {&CampaignMarked{Campaign: 2, What: RunStarted}, NotFound},
		"no such mark":         {&CampaignMarked{Campaign: id, What: "danced"}, Invalid},
		"no such line":         {&CampaignMarked{Campaign: id, What: SheetTicked, Ticked: []SheetItem{"hat"}}, Invalid},
	} {
		var refused *Error
		if err := s.Check(Record{Body: c.body}, s.Last.Add(time.Hour)); !errors.As(err, &refused) || refused.Code != c.code {
			t.Errorf("%s: %v, want %s", name, err, c.code)
		}
	}
	other := begun("shredder")
	other.Key = "b1"
	s = write(t, s, Record{Body: other})
	if n := len(s.Campaigning()); n != 2 {
		t.Errorf("%d campaigns go on", n)
	}
	// Struck out, it is gone, and what was said in it has no effect.
	s = write(t, s, Record{Body: &CampaignMarked{Campaign: id, What: RunStarted, Key: "a2"}}, Record{Corrects: id, Body: &Void{}})
	if _, ok := s.Running("plain"); ok {
		t.Error("a campaign struck out goes on")
	}
	if r, ok := s.Keyed("a1"); !ok || r.ID != id {
		t.Error("its key is forgotten, and what is sent again would be written again")
	}
}

// TestSentAgainIsWrittenOnce: whatever is sent again, in whatever order, the state
// is that of the first time.
func TestSentAgainIsWrittenOnce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		s, id := campaigning(t)
		marks := Marks()[:9] // that do not end it
		var sent []*CampaignMarked
		for i := range rapid.IntRange(1, 15).Draw(rt, "touches") {
			b := &CampaignMarked{Campaign: id, What: rapid.SampledFrom(marks).Draw(rt, "what"), Key: string(rune('k' + i))}
			again := len(sent) > 0 && rapid.Bool().Draw(rt, "again")
			if again {
				b = rapid.SampledFrom(sent).Draw(rt, "which")
			}
			next, err := s.With(Record{At: s.Last.Add(time.Minute), Body: b})
			var refused *Error
			switch {
			case again && errors.As(err, &refused) && refused.Code == Repeated:
			case again || err != nil:
				rt.Fatalf("sent again %t: %v", again, err)
			default:
				s, sent = next, append(sent, b)
			}
		}
		if n := len(slices.DeleteFunc(s.History.List(), func(r Record) bool { _, is := r.Body.(*CampaignMarked); return !is })); n != len(sent) {
			rt.Fatalf("%d marks are kept of %d", n, len(sent))
		}
	})
}

// TestTheSheetComesAgain: before the first charge of another day, and after the mill
// was worked on; not past midnight in one go, nor after a look that found all in order.
func TestTheSheetComesAgain(t *testing.T) {
	t.Parallel()
	charge := []any{RunStarted, RunStopped, ran(0.09, kg(0.08))}
	day := 24 * time.Hour
	for _, c := range []struct {
		name  string
		says  []any // a mark, a body, or a time to wait
		stage Stage
		again Again
	}{
		{"an hour later", []any{SheetSkipped, time.Hour}, ReadyStage, ""},
		{"a day later", []any{SheetSkipped, day}, SheetOpen, NewDay},
		{"a day after a charge", append(append([]any{SheetSkipped}, charge...), day), SheetOpen, NewDay},
		{"resumed on the next day", []any{SheetSkipped, PausedMark, day, ResumedMark}, SheetOpen, NewDay},
		{"ticked in part on the next day", []any{SheetSkipped, day, SheetItems()[:3], time.Minute}, SheetOpen, NewDay},
		{"what was ticked before does not count", []any{SheetItems()[:7], SheetItems()[7:], day, SheetItems()[:3]}, SheetOpen, NewDay},
		{"ticked on the next day", []any{SheetSkipped, day, SheetItems()}, ReadyStage, ""},
		{"twice within a day", []any{SheetSkipped, day, SheetSkipped, time.Hour}, ReadyStage, ""},
		{"on the third day", []any{SheetSkipped, day, SheetSkipped, day}, SheetOpen, NewDay},
		{"another seal", []any{SheetSkipped, &Serviced{Mill: "plain", Part: SealPart, What: Replaced}}, SheetOpen, WorkedOn},
		{"another mill's seal", []any{SheetSkipped, &Serviced{Mill: "shredder", Part: SealPart, What: Replaced}}, ReadyStage, ""},
		{"a look that found all in order", []any{SheetSkipped, &Serviced{Mill: "plain", Part: ScreenPart, What: Inspected, Sound: Yes}}, ReadyStage, ""},
		{"a look that did not", []any{SheetSkipped, &Serviced{Mill: "plain", Part: ScreenPart, What: Inspected, Sound: No}}, SheetOpen, WorkedOn},
		{"looked over afterwards", []any{SheetSkipped, &Serviced{Mill: "plain", Part: SealPart, What: Replaced}, SheetItems()}, ReadyStage, ""},
		{"worked on between a stop and its record", []any{SheetSkipped, RunStarted, RunStopped, &Serviced{Mill: "plain", Part: ScreenPart, What: Repaired}, ran(0.09, kg(0.08))}, SheetOpen, WorkedOn},
		{"worked on before the first look", []any{&Serviced{Mill: "plain", Part: ScreenPart, What: Repaired}}, SheetOpen, ""},
		{"another screen", []any{&MillSet{Mill: Mill{Name: "plain", Screen: Screen{Hole: kg(2e-3)}}}, SheetSkipped, &MillSet{Mill: Mill{Name: "plain", Screen: Screen{Hole: kg(3e-3)}}}}, SheetOpen, WorkedOn},
		{"a screen better known", []any{&MillSet{Mill: Mill{Name: "plain", Screen: Screen{Hole: kg(2e-3)}}}, SheetSkipped, &MillSet{Mill: Mill{Name: "plain", Screen: Screen{Hole: kg(3e-3)}}, Means: AlwaysSo}}, ReadyStage, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			s, id := campaigning(t)
			at := s.Newest().At.Add(time.Minute)
			for _, x := range c.says {
				r := Record{At: at}
				switch x := x.(type) {
				case time.Duration:
					at = at.Add(x)
					continue
				case Mark:
					r.Body = &CampaignMarked{Campaign: id, What: x}
				case []SheetItem:
					r.Body = &CampaignMarked{Campaign: id, What: SheetTicked, Ticked: x}
				case Body:
					r.Body = x
				}
				var err error
				if s, err = s.With(r); err != nil {
					t.Fatal(err)
				}
				at = at.Add(time.Minute)
			}
			got, _ := s.Campaign(id)
			if got = got.On(at); got.Stage != c.stage || got.Again != c.again {
				t.Errorf("it stands at %s (%s), want %s (%s)", got.Stage, got.Again, c.stage, c.again)
			}
		})
	}
	// Who grinds past midnight is not asked in between.
	s, id := campaigning(t)
	late := time.Date(2026, 5, 2, 23, 50, 0, 0, time.UTC)
	c, _ := s.Campaign(id)
	c.Stage, c.Looked, c.Stopped = ReadyStage, late.Add(-time.Hour), late
	if got := c.On(late.Add(20 * time.Minute)); got.Stage != ReadyStage {
		t.Error("asked at ten past midnight")
	}
	if got := c.On(late.Add(9 * time.Hour)); got.Stage != SheetOpen {
		t.Error("not asked in the morning")
	}
}
