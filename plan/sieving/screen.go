package sieving

import (
	"fmt"
	"slices"
	"sync"

	"hopperful/answer"
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
	LookNow     ScreenWord = "look at the screen now"
	NothingSays ScreenWord = "nothing says so"
	NotKnownYet ScreenWord = "not known yet"
)

// falseAlarm is the share of sound stacks, and of unchanged records of
// metal, that may alarm: 1 in 200 (judgement; package sieve simulates it).
const falseAlarm = 0.005

// ScreenState is what the records say about a mill's screen and plate.
type ScreenState struct {
	Mill    string         `json:"mill"`
	Word    ScreenWord     `json:"word"`
	Answer  string         `json:"answer"`
	Hole    *figure.Figure `json:"hole,omitempty"`
	Torn    *TornEvidence  `json:"torn,omitempty"`  // the stack that says most since the screen was last seen sound
	Metal   *MetalEvidence `json:"metal,omitempty"` // of the magnet
	Since   shop.RecordID  `json:"since,omitempty"` // the service the chapter began with
	Damaged shop.RecordID  `json:"damaged,omitempty"`
	Learned int            `json:"learned"` // sound runs the test knows of
	Stacks  int            `json:"stacks"`  // stacks judged since
	Alarms  int            `json:"alarms"`  // how many of them alarm
	Records []int64        `json:"records"` // all that speak
	Unused  []string       `json:"unused"`  // what could not be used, and why
	Do      []string       `json:"do"`
}

// TornEvidence is what one stack says about the screen.
type TornEvidence struct {
	Record     shop.RecordID  `json:"record,omitempty"` // 0: not kept yet
	Lot        shop.LotID     `json:"lot,omitempty"`
	Alarm      bool           `json:"alarm"`
	Coarse     figure.Figure  `json:"coarse"`   // share above 1.25 holes
	Expected   figure.Figure  `json:"expected"` // of a run with a sound screen
	Chance     figure.Figure  `json:"chance"`   // of so much from a sound one
	LongChance *figure.Figure `json:"long_chance,omitempty"`
	Odds       figure.Figure  `json:"odds"` // log10 of torn over sound
	FalseAlarm figure.Figure  `json:"false_alarm"`
	Says       string         `json:"says"`
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
	j := &screenJudge{book: b, ScreenState: ScreenState{Mill: b.mill, Word: NotKnownYet, Since: b.since, Damaged: b.damaged, Records: []int64{}, Unused: []string{}, Do: []string{}}}
	if b.hole > 0 {
		h := figure.Exact("hole", "hole of the screen", quantity.Length, b.hole, figure.Entered)
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
			if why != "" {
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
func (b *screenBook) sample(s *shop.State, st Stack) (m screenSample, why string, err error) {
	if m.density, err = densityOf(s, st.Lot); err != nil {
		return m, "", err
	}
	m.screen = sieve.Screen{Hole: b.hole, Density: m.density.Value}
	cannot := func(err error) string { return answer.Sentence(st.Name + ": " + err.Error()) }
	a, err := sieve.Weigh(st.Stack)
	if err != nil {
		return m, cannot(err), nil
	}
	for _, d := range a.Doubts { // masses that are asked about are no evidence
		return m, st.Name + ": " + d.Text, nil
	}
	if m.sample, err = sieve.CoarseSample(a, m.screen); err != nil {
		return m, cannot(err), nil
	}
	if st.Long != nil {
		m.sample.Long = *st.Long
	}
	// The test refuses a sample too small to hold a grain or two; say so in words.
	if grains, err := sieve.EffectiveGrains(m.sample.Mass, sieve.CoarseRatio*b.hole, m.density.Value); err != nil || grains < 2 {
		return m, st.Name + ": the sample is too small for holes of that size.", nil
	}
	return m, "", nil
}

// evidence puts a test's numbers into figures.
func (b *screenBook) evidence(st Stack, m screenSample, t sieve.Torn, learned int) *TornEvidence {
	var ids []int64
	if st.Record != 0 {
		ids = []int64{int64(st.Record)}
	}
	mark := func(f figure.Figure) figure.Figure { f.Records = ids; return f }
	hole := figure.Exact("hole", "hole of the screen", quantity.Length, b.hole, figure.Entered)
	coarse := mark(figure.Exact("coarse", "coarser than 1.25 holes", quantity.Share, m.sample.Coarse, figure.Reckoned)).From("share of what was sieved, linear in the logarithm of size between sieves", hole)
	x := t.Expected
	expected := figure.Figure{Key: "expected", Name: "the same from a sound screen", Kind: quantity.Share, Value: x.Value, Low: x.Low, High: x.High, Basis: figure.Assumed}.
		From("median 1 %, nine in ten below 4 %; half of that spread is between mills and narrows with runs after which the screen was found whole").Cite("judgement", "both numbers")
	if learned > 0 {
		expected = expected.LearnedFrom(learned)
	}
	e := &TornEvidence{Record: st.Record, Lot: st.Lot, Alarm: t.Alarm, Coarse: coarse, Expected: expected, Says: t.Says,
		Chance: mark(figure.Exact("chance", "chance of so much from a sound screen", quantity.Share, t.ShareP, figure.Reckoned)).
			From("tail of the binomial distribution over what sound runs do", coarse, expected, m.density).
			Held(figure.Limit{Name: "alarm below", Value: t.ShareLimit, Side: figure.Over, Holds: holdsOf(t.ShareP >= t.ShareLimit)}),
		Odds: mark(figure.Exact("odds_torn", "evidence for a tear, in powers of ten", quantity.Number, t.LogBayes, figure.Reckoned)).
			From("log10 of the chance of this sample with a torn screen over that with a sound one", coarse, expected).Cite("judgement", "a torn screen lets 2 to 32 % through"),
		FalseAlarm: figure.Exact("false_alarm", "sound stacks that alarm", quantity.Share, t.FalseAlarm, figure.Assumed).From("as set: 1 in 200"),
	}
	if m.sample.Long != sieve.NotLooked {
		long := mark(figure.Exact("long_chance", "chance of so many grains above two holes", quantity.Share, t.LongP, figure.Reckoned)).
			From("tail of the Poisson distribution over what sound runs do", figure.Exact("long", "grains above two holes", quantity.Count, float64(m.sample.Long), figure.Measured)).
			Held(figure.Limit{Name: "alarm below", Value: t.LongLimit, Side: figure.Over, Holds: holdsOf(t.LongP >= t.LongLimit)})
		e.LongChance = &long
	}
	return e
}

// say draws the conclusion and what to do.
func (o *screenJudge) say() {
	b, its := o.book, "of "+o.Mill
	if o.Mill == "" {
		its = "of the mill"
	}
	torn, cracked := o.Torn != nil && o.Torn.Alarm, o.Metal != nil && o.Metal.Alarm
	unplug := "Stop the mill, pull the plug, wait until it stands still, and look at the screen and the plate against the light; feel for cracks with a tool, not with a finger."
	switch {
	case o.Damaged != 0:
		o.Word = LookNow
		o.Answer = fmt.Sprintf("By record %d the screen %s is damaged, and no record says that it was mended or replaced.", o.Damaged, its)
		o.Do = append(o.Do, "Replace the screen before the next run, and write it down.")
		o.Records = append(o.Records, int64(o.Damaged))
	case torn || cracked:
		o.Word = LookNow
		o.Answer = fmt.Sprintf("Look at the screen %s now: ", its)
		if torn {
			o.Answer += o.Torn.Says
		} else {
			o.Answer += o.Metal.Says
		}
		if torn && cracked {
			o.Answer += " " + o.Metal.Says
		}
		o.Do = append(o.Do, unplug, "Write down what you found: that ends the alarm and teaches the test.")
	case o.Stacks > 0 || o.Metal != nil && o.Metal.Tested:
		o.Word = NothingSays
		o.Answer = fmt.Sprintf("Nothing says that the screen %s is torn or its plate cracked; that does not prove them whole.", its)
	default:
		o.Answer = fmt.Sprintf("Whether the screen %s is whole, the records do not tell yet.", its)
	}
	switch {
	case b.hole == 0:
		o.Do = append(o.Do, "Describe the hole of the screen.")
	case o.Stacks == 0 && o.Word != LookNow:
		o.Do = append(o.Do, fmt.Sprintf("Sieve what comes out next on a stack with a sieve near %s.", quantity.Length.Plain(sieve.CoarseRatio*b.hole)))
	}
	if len(b.sound) == 0 && o.Word == NothingSays && o.Stacks > 0 {
		o.Do = append(o.Do, "Look at the screen once, with the plug pulled, and write down that it is whole: the stacks so far then teach the test.")
	}
}
