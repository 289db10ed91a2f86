package sieving

import (
	"errors"
	"math"
	"slices"
	"sync"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan"
	"hopperful/process/sieve"
	"hopperful/quantity"
	"hopperful/shop"
)

// ScreenWord is the answer about a mill's screen and plate.
type ScreenWord string

// The answers. None of them says that a screen is whole.
const (
	LookNow     ScreenWord = "look_now"
	NothingSays ScreenWord = "nothing_says"
	NotKnownYet ScreenWord = "not_known"
)

// falseAlarm is the share of sound stacks, and of unchanged records of
// metal, that may alarm: 1 in 200 (judgement; package sieve simulates it).
const falseAlarm = 0.005

// ScreenState is what the records say about a mill's screen and plate: a
// document whose head is the answer, and what the answer was made of.
type ScreenState struct {
	answer.Document
	Mill    string
	Word    ScreenWord
	Hole    *figure.Figure
	Torn    *TornEvidence  // the stack that says most since the screen was last seen sound
	Metal   *MetalEvidence // of the magnet
	Since   shop.RecordID  // the service the chapter began with
	Damaged shop.RecordID
	Learned int     // sound runs the test knows of
	Stacks  int     // stacks judged since
	Alarms  int     // how many of them alarm
	Records []int64 // all that speak
	Unused  []fact.Saying
}

// TornEvidence is what one stack says about the screen.
type TornEvidence struct {
	Record     shop.RecordID // 0: not kept yet
	Lot        shop.LotID
	Alarm      bool
	Coarse     figure.Figure // share above 1.25 holes
	Expected   figure.Figure // of a run with a sound screen
	Chance     figure.Figure // of so much from a sound one
	LongChance *figure.Figure
	Odds       figure.Figure // log10 of torn over sound
	FalseAlarm figure.Figure
	Says       fact.Saying
}

// Screen says whether a mill's screen may be torn or its plate cracked, from the
// sieve stacks of what came through it and from the metal the magnet caught.
// An empty name is the first mill in use.
func Screen(s *shop.State, mill string) (ScreenState, error) {
	m, err := plan.PickMill(s, mill)
	if err != nil {
		return ScreenState{}, err
	}
	return screenOf(s, m, nil)
}

// screenOf judges a mill's screen; more is a stack not on record yet.
func screenOf(s *shop.State, m shop.MillState, more *Stack) (ScreenState, error) {
	j := newScreenState(screenRead(s, m.Name, more))
	err := j.judge(s)
	return j.ScreenState, err
}

// screenJudge is a state being worked out from the book.
type screenJudge struct {
	ScreenState
	book *screenBook
}

func newScreenState(b *screenBook) *screenJudge {
	j := &screenJudge{book: b, ScreenState: ScreenState{Mill: b.mill, Word: NotKnownYet, Since: b.since, Damaged: b.damaged}}
	if b.hole > 0 {
		h := figure.Exact("hole", "figure.hole", quantity.Length, b.hole, figure.Entered)
		j.Hole = &h
	}
	return j
}

// judge weighs all the evidence and draws the conclusion.
func (j *screenJudge) judge(s *shop.State) error {
	if err := j.stacks(s); err != nil {
		return err
	}
	if err := j.book.metalTest(s, &j.ScreenState); err != nil {
		return err
	}
	j.say()
	slices.Sort(j.Records)
	j.Records = slices.Compact(j.Records)
	return nil
}

// screenPrior is what is known of any mill; it is never changed, and working it
// out anew for every page would take longer than the rest.
var screenPrior = sync.OnceValues(func() (sieve.Sound, error) { return sieve.NewSound(sieve.Prior{}) })

// mostJudged bounds the stacks and the sound runs that are looked at: the newest.
const mostJudged = 40

// stacks learns from those before the last good inspection and tests those since.
func (j *screenJudge) stacks(s *shop.State) error {
	known, err := screenPrior()
	if err != nil {
		return err
	}
	use := func(all []Stack, do func(Stack, screenSample) error) error {
		for _, one := range all {
			m, why, err := j.book.sample(s, one)
			if err != nil {
				return err
			}
			if !why.Empty() {
				j.Unused = append(j.Unused, why)
				continue
			}
			if one.Record != 0 {
				j.Records = append(j.Records, int64(one.Record))
			}
			if err := do(one, m); err != nil {
				return refusal(err)
			}
		}
		return nil
	}
	if err := use(j.book.sound, func(_ Stack, m screenSample) (err error) {
		known, err = known.After(m.screen, m.sample)
		return err
	}); err != nil {
		return err
	}
	j.Learned = known.Runs
	return use(j.book.open, func(one Stack, m screenSample) error {
		t, err := known.Test(m.screen, m.sample, falseAlarm)
		if err != nil {
			return err
		}
		j.Stacks++
		if t.Alarm {
			j.Alarms++
		}
		if j.Torn == nil || t.Alarm || !j.Torn.Alarm {
			j.Torn = j.book.evidence(one, m, t, known.Runs)
		}
		return nil
	})
}

// screenSample is a stack as the test takes it.
type screenSample struct {
	screen  sieve.Screen
	sample  sieve.Sample
	density figure.Figure
}

// sample takes from a stack what the test needs; why says what is missing.
func (b *screenBook) sample(s *shop.State, st Stack) (m screenSample, why fact.Saying, err error) {
	if m.density, err = DensityOf(s, st.Lot); err != nil {
		return m, why, err
	}
	m.screen = sieve.Screen{Hole: b.hole, Density: m.density.Value}
	cannot := func(err error) fact.Saying {
		why := fact.Verbatim(err.Error())
		if e := (*sieve.EntryError)(nil); errors.As(err, &e) {
			why = refused(e)
			if e.Code == sieve.NotReached {
				why = fact.Say("screen.no_sieve_near", fact.Set("size", quantity.Length, sieve.CoarseRatio*b.hole))
			}
		}
		return fact.Say("screen.stack_cannot", fact.Name("stack", st.Name), fact.Parts("why", why))
	}
	a, err := sieve.Weigh(st.Stack)
	if err != nil {
		return m, cannot(err), nil
	}
	for _, d := range a.Doubts { // masses that are asked about are no evidence
		return m, fact.Say("screen.stack_doubtful", fact.Name("stack", st.Name), fact.Count("n", d.Rows)), nil
	}
	if m.sample, err = sieve.CoarseSample(a, m.screen); err != nil {
		return m, cannot(err), nil
	}
	if st.Long != nil {
		m.sample.Long = *st.Long
	}
	// The test refuses a sample too small to hold a grain or two; say so in words.
	if grains, err := sieve.EffectiveGrains(m.sample.Mass, sieve.CoarseRatio*b.hole, m.density.Value); err != nil || grains < 2 {
		return m, fact.Say("screen.stack_small", fact.Name("stack", st.Name)), nil
	}
	return m, why, nil
}

// evidence puts a test's numbers into figures.
func (b *screenBook) evidence(st Stack, m screenSample, t sieve.Torn, learned int) *TornEvidence {
	var ids []int64
	if st.Record != 0 {
		ids = []int64{int64(st.Record)}
	}
	mark := func(f figure.Figure) figure.Figure { f.Records = ids; return f }
	hole := figure.Exact("hole", "figure.hole", quantity.Length, b.hole, figure.Entered)
	coarse := mark(figure.Exact("coarse", "figure.coarse", quantity.Share, m.sample.Coarse, figure.Reckoned)).From("how.coarse", hole)
	x := t.Expected
	expected := figure.Figure{Key: "expected", Name: "figure.expected", Kind: quantity.Share, Value: x.Value, Low: x.Low, High: x.High, Basis: figure.Assumed}.
		From("how.expected").Cite("judgement", "both numbers")
	if learned > 0 {
		expected = expected.LearnedFrom(learned)
	}
	e := &TornEvidence{Record: st.Record, Lot: st.Lot, Alarm: t.Alarm, Coarse: coarse, Expected: expected,
		Chance: mark(figure.Exact("chance", "figure.chance_sound", quantity.Share, t.ShareP, figure.Reckoned)).
			From("how.chance_sound", coarse, expected, m.density).
			Held(figure.Limit{Name: "limit.alarm", Value: t.ShareLimit, Side: figure.Over, Holds: holdsOf(t.ShareP >= t.ShareLimit)}),
		Odds: mark(figure.Exact("odds_torn", "figure.odds_torn", quantity.Number, t.LogBayes, figure.Reckoned)).
			From("how.odds_torn", coarse, expected).Cite("judgement", "a torn screen lets 2 to 32 % through"),
		FalseAlarm: figure.Exact("false_alarm", "figure.false_alarm_stacks", quantity.Share, t.FalseAlarm, figure.Assumed),
	}
	if m.sample.Long != sieve.NotLooked {
		long := mark(figure.Exact("long_chance", "figure.long_chance", quantity.Share, t.LongP, figure.Reckoned)).
			From("how.long_chance", figure.Exact("long", "figure.long", quantity.Count, float64(m.sample.Long), figure.Measured)).
			Held(figure.Limit{Name: "limit.alarm", Value: t.LongLimit, Side: figure.Over, Holds: holdsOf(t.LongP >= t.LongLimit)})
		e.LongChance = &long
	}
	e.Says = tornSays(e, max(0, m.sample.Long))
	return e
}

// tornSays is what a stack says of the screen, in a saying.
func tornSays(e *TornEvidence, long int) fact.Saying {
	if e.Alarm {
		return fact.Say("screen.torn_alarm", fact.Figure("coarse", e.Coarse), fact.Figure("expected", e.Expected), fact.Count("long", long), oneIn(e.FalseAlarm.Value))
	}
	return fact.Say("screen.torn_usual", fact.Figure("coarse", e.Coarse), fact.Figure("expected", e.Expected), fact.Count("long", long))
}

// oneIn is a share as one in so many.
func oneIn(share float64) fact.Fact { return fact.Count("one_in", int(math.Round(1/share))) }

// say draws the conclusion and what to do.
func (o *screenJudge) say() {
	b, mill := o.book, fact.Name("mill", o.Mill)
	torn, cracked := o.Torn != nil && o.Torn.Alarm, o.Metal != nil && o.Metal.Alarm
	do := func(s fact.Saying) { o.Steps = append(o.Steps, answer.Action{Do: s}) }
	conclude := func(word ScreenWord, head fact.Saying) {
		head.Facts = append(head.Facts, fact.Count("learned", o.Learned), fact.Count("stacks", o.Stacks), fact.Count("alarms", o.Alarms))
		o.Word, o.Head = word, answer.Found(head)
	}
	switch {
	case o.Damaged != 0:
		conclude(LookNow, fact.Say("screen.damaged", mill, fact.Count("record", int(o.Damaged))))
		do(fact.Say("do.replace_screen", mill))
		o.Records = append(o.Records, int64(o.Damaged))
	case torn || cracked:
		var evidence []fact.Saying
		if torn {
			evidence = append(evidence, o.Torn.Says)
		}
		if cracked {
			evidence = append(evidence, o.Metal.Says)
		}
		conclude(LookNow, fact.Say("screen.look_now", mill, fact.Parts("evidence", evidence[0])))
		for _, more := range evidence[1:] {
			o.Spoilers = append(o.Spoilers, answer.Found(more))
		}
		do(fact.Say("screen.unplug"))
		do(fact.Say("do.write_down_look", mill))
	case o.Stacks > 0 || o.Metal != nil && o.Metal.Tested:
		conclude(NothingSays, fact.Say("screen.nothing_says", mill))
	default:
		conclude(NotKnownYet, fact.Say("screen.not_known", mill))
	}
	switch {
	case b.hole == 0:
		do(fact.Say("do.describe_hole", mill))
	case o.Stacks == 0 && o.Word != LookNow:
		do(fact.Say("screen.sieve_next", fact.Set("size", quantity.Length, sieve.CoarseRatio*b.hole)))
	}
	if len(b.sound) == 0 && o.Word == NothingSays && o.Stacks > 0 {
		do(fact.Say("screen.look_once"))
	}
	o.evidence()
}

// evidence puts what the answer rests on among the reasons.
func (o *screenJudge) evidence() {
	if t := o.Torn; t != nil {
		s := answer.Section{Key: "torn", Notes: []fact.Saying{t.Says}, Figures: []figure.Figure{t.Coarse, t.Expected, t.Chance}}
		if t.Lot != "" {
			s.Notes = append(s.Notes, fact.Say("screen.torn_from", fact.Lot("lot", string(t.Lot), ""), fact.Count("record", int(t.Record))))
		}
		if t.LongChance != nil {
			s.Figures = append(s.Figures, *t.LongChance)
		}
		s.Figures = append(s.Figures, t.Odds, t.FalseAlarm)
		o.Reasons = append(o.Reasons, s)
	}
	if m := o.Metal; m != nil {
		s := answer.Section{Key: "metal", Notes: []fact.Saying{m.Says}, Figures: []figure.Figure{m.Last}}
		for _, f := range []*figure.Figure{m.Usual, m.Step, m.Trend} {
			if f != nil {
				s.Figures = append(s.Figures, *f)
			}
		}
		s.Figures = append(s.Figures, m.FalseAlarm)
		o.Reasons = append(o.Reasons, s)
	}
	if len(o.Unused) > 0 {
		o.Reasons = append(o.Reasons, answer.Section{Key: "unused_stacks", Notes: o.Unused})
	}
}
