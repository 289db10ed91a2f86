// Package dose says how much noise each person's ears have had in a day, what more is
// planned, and where the dust lies that was made.
package dose

import (
	"cmp"
	"math"
	"slices"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process"
	"hopperful/process/exposure"
	"hopperful/quantity"
	"hopperful/shop"
)

// Options say what is not on record; the zero value is ready but for the day.
type Options struct {
	Day        time.Time // any moment of the day, in the shop's place
	Who        string    // one person only; "": all
	Level      float64   // at the ear while the mill turns, measured [dB(A)]; 0: as the mill says
	Background float64   // measured with the level and without the mill [dB(A)]; 0: not measured
	Beside     float64   // of what sounds together with the mill, such as a vacuum [dB(A)]; 0: nothing
	More       float64   // time at the mill still planned today [s]; 0: what campaigns that go on still need
	Floor      float64   // area of the floor round the mill [m²]; 0: not said
	Height     float64   // of the room [m]; 0: 2.4
}

// What a workshop's room is no larger than. Judgement.
const (
	mostFloor  = 10_000.0 // [m²]
	mostHeight = 50.0     // [m]
)

const (
	measured = 2.0 // dB, standard deviation of a level somebody measured with a phone or a simple meter; judgement
	z90      = 1.2816
	weekDays = 7
)

// ears are what one person has had.
type ears struct {
	who   string
	tasks []exposure.Task
	time  float64
	days  map[string][]exposure.Task // of the seven days up to the day, by date
	guess bool                       // a level was assumed
}

// job is an answer on its way.
type job struct {
	state *shop.State
	opt   Options
	doc   answer.Document
	all   []*ears
	more  float64
}

// Of says what a day was for ears and lungs.
func Of(s *shop.State, o Options) (answer.Document, error) {
	j := &job{state: s, opt: o}
	if err := o.check(); err != nil {
		return answer.Document{}, err
	}
	if err := j.gather(); err != nil {
		return answer.Document{}, err
	}
	if err := j.people(); err != nil {
		return answer.Document{}, err
	}
	if err := j.dust(); err != nil {
		return answer.Document{}, err
	}
	j.doc.Cautions = []answer.Finding{answer.Found(fact.Say("dose.caution_ears")), answer.Found(fact.Say("dose.caution_dust")), answer.Found(fact.Say("dose.caution_rules"))}
	return j.doc, nil
}

// check refuses what no ear, day or room can be.
func (o Options) check() error {
	for _, x := range []struct {
		field string
		level float64
	}{{"at_ear", o.Level}, {"background", o.Background}, {"beside", o.Beside}} {
		if x.level != 0 && !(x.level >= 20 && x.level <= 140) {
			return shop.Refuse(shop.Invalid, x.field, fact.Say("dose.no_level", fact.Measured("level", quantity.SoundLevel, x.level)), fact.Say("dose.measure_again"))
		}
	}
	for _, x := range []struct {
		field string
		value float64
		limit process.RangeError
	}{
		{"more", o.More, process.RangeError{Name: "dose.more", Hi: 24 * 3600, Unit: "s"}},
		{"floor", o.Floor, process.RangeError{Name: "dose.floor", Hi: mostFloor, Unit: "m²"}},
		{"height", o.Height, process.RangeError{Name: "dose.height", Hi: mostHeight, Unit: "m"}},
	} {
		if e := x.limit; !(x.value >= 0 && x.value <= e.Hi) {
			e.Value = x.value
			return shop.Refused(shop.Invalid, x.field, &e)
		}
	}
	return nil
}

// levelOf is the level at the ear beside a mill that turns.
func (j *job) levelOf(m shop.Mill) (level float64, guess bool, err error) {
	level, guess = exposure.AssumedLevel, true
	switch {
	case j.opt.Level > 0:
		level, guess = j.opt.Level, false
		if j.opt.Background > 0 {
			if level, err = exposure.WithoutBackground(level, j.opt.Background); err != nil {
				return 0, false, shop.Refuse(shop.Invalid, "background", fact.Say("dose.background_louder"), fact.Say("dose.measure_again"))
			}
		}
	case m.Noise != nil:
		level, guess = *m.Noise, false
	}
	if j.opt.Beside > 0 {
		level, err = exposure.Add(level, j.opt.Beside)
	}
	return level, guess, err
}

// gather reads who stood at which mill for how long.
func (j *job) gather() error {
	date := j.opt.Day.Format(time.DateOnly)
	first := j.opt.Day.AddDate(0, 0, 1-weekDays).Format(time.DateOnly)
	for _, r := range j.state.Records.Since(j.opt.Day.AddDate(0, 0, -weekDays)) {
		b, ok := r.Body.(*shop.Ground)
		if !ok || j.opt.Who != "" && r.By != j.opt.Who {
			continue
		}
		day := r.At.In(j.opt.Day.Location()).Format(time.DateOnly)
		if day < first || day > date {
			continue
		}
		m, stands := j.state.MillAt(r.ID)
		if !stands {
			continue
		}
		level, guess, err := j.levelOf(m)
		if err != nil {
			return err
		}
		e := j.earsOf(r.By)
		task := exposure.Task{Level: level, Time: math.Min(b.Run, 86400)}
		e.days[day] = append(e.days[day], task)
		if day == date {
			e.tasks, e.time, e.guess = append(e.tasks, task), e.time+b.Run, e.guess || guess
		}
	}
	j.more = j.opt.More
	if j.more == 0 {
		for _, c := range j.state.Campaigning() {
			j.more += float64(max(c.Now.Charges, 0)) * c.Now.Run
		}
	}
	return nil
}

func (j *job) earsOf(who string) *ears {
	if i := slices.IndexFunc(j.all, func(e *ears) bool { return e.who == who }); i >= 0 {
		return j.all[i]
	}
	e := &ears{who: who, days: map[string][]exposure.Task{}}
	j.all = append(j.all, e)
	return e
}

// spread is one standard deviation of a level.
func (e *ears) spread() float64 {
	if e.guess {
		return exposure.AssumedSpread
	}
	return measured
}

// day is the daily level of tasks with its range; false without any noise.
func (e *ears) day(tasks []exposure.Task) (figure.Figure, bool) {
	level, err := exposure.DayLevel(tasks...)
	if len(tasks) == 0 || err != nil {
		return figure.Figure{}, false // no time: nothing was heard
	}
	basis := figure.Reckoned
	if e.guess {
		basis = figure.Assumed
	}
	f := figure.Figure{Key: "day_level", Name: "dose.day_level", Kind: quantity.SoundLevel, Value: level, Low: level - z90*e.spread(), High: level + z90*e.spread(), Basis: basis}
	return f.From("L = 10·lg(Σ (T/8 h)·10^(L/10))", figure.Exact("time", "dose.time", quantity.Duration, e.time, figure.Measured)).Cite("EU2003", "article 3"), true
}

// people is the table of the day and the week, the most exposed first.
func (j *job) people() error {
	loud := func(e *ears) float64 {
		sum := 0.0
		for _, t := range e.tasks {
			sum += t.Time * math.Pow(10, t.Level/10)
		}
		return sum
	}
	slices.SortStableFunc(j.all, func(a, b *ears) int { return cmp.Compare(loud(b), loud(a)) })
	t := answer.Table{Key: "dose_people", Leads: true, Columns: []answer.Column{{Key: "who"}, {Key: "at_mill", Numbers: true}, {Key: "day_level", Numbers: true}, {Key: "week_level", Numbers: true}, {Key: "niosh", Numbers: true}, {Key: "osha", Numbers: true}}}
	for _, e := range j.all {
		if len(e.tasks) == 0 {
			continue
		}
		row, err := j.row(e)
		if err != nil {
			return err
		}
		t.Rows = append(t.Rows, row)
	}
	if len(t.Rows) == 0 {
		j.doc.Head = answer.Found(fact.Say("dose.quiet_day"))
		if j.more > 0 {
			return j.planned(&ears{guess: true})
		}
		return nil
	}
	t.Notes = append(t.Notes, fact.Say("dose.shares"))
	j.doc.Tables = append(j.doc.Tables, t)
	most := j.all[0]
	f, _ := most.day(most.tasks)
	j.doc.Head = answer.Found(fact.Say("dose.head", fact.Name("who", most.who), fact.Figure("level", f), fact.About("time", quantity.Duration, most.time)))
	j.doc.Figures = append(j.doc.Figures, f)
	j.limits(f)
	if most.guess {
		j.doc.Spoilers = append(j.doc.Spoilers, answer.Found(fact.Say("dose.guessed"), fact.Say("dose.measure_level")))
	}
	return j.planned(most)
}

// row is one person's line.
func (j *job) row(e *ears) ([]fact.Fact, error) {
	f, _ := e.day(e.tasks)
	var days []float64
	for _, tasks := range e.days {
		if l, err := exposure.DayLevel(tasks...); err == nil {
			days = append(days, l)
		}
	}
	slices.Sort(days) // the sum must not depend on the order of a map
	week, err := exposure.WeekLevel(days...)
	if err != nil {
		return nil, err
	}
	row := []fact.Fact{fact.Name("who", e.who), fact.About("time", quantity.Duration, e.time), fact.About("day", quantity.SoundLevel, f.Value), fact.About("week", quantity.SoundLevel, week)}
	if e.who == "" {
		row[0] = fact.Word("who", "dose.somebody")
	}
	for _, s := range []exposure.Scheme{exposure.NIOSH98, exposure.OSHA1910} {
		d, err := exposure.Dose(s, e.tasks...)
		if err != nil {
			return nil, err
		}
		row = append(row, fact.About("dose", quantity.Share, d))
	}
	return row, nil
}

// limits holds a day's level against the directive's values.
func (j *job) limits(f figure.Figure) {
	for _, b := range []struct {
		key, name, limit string
		value            float64
	}{{"lower", "dose.against_lower", "dose.lower_value", exposure.LowerAction}, {"upper", "dose.against_upper", "dose.upper_value", exposure.UpperAction}} {
		g := f
		g.Key, g.Name = b.key, b.name
		j.doc.Limits = append(j.doc.Limits, answer.Bound{Figure: g.Held(figure.Limit{Name: b.limit, Value: b.value, Side: figure.Below, Holds: below(f, b.value)}), Binds: f.Value >= b.value})
	}
	if f.High >= exposure.LowerAction {
		j.doc.Steps = append(j.doc.Steps, answer.Action{Do: fact.Say("dose.wear_protection"), Why: fact.Say("dose.from_eighty")})
	}
}

// below is the chance that a level lies below a value.
func below(f figure.Figure, value float64) float64 {
	sd := (f.High - f.Low) / (2 * z90)
	return 0.5 * math.Erfc((f.Value-value)/(sd*math.Sqrt2))
}

// planned says what more is to come, how the day ends with it, and the time that is left.
func (j *job) planned(e *ears) error {
	level := exposure.AssumedLevel
	if active := j.state.ActiveMills(); len(active) > 0 {
		var err error
		if level, e.guess, err = j.levelOf(active[0].Mill); err != nil {
			return err
		}
	}
	if j.more > 0 {
		with := &ears{tasks: append(slices.Clone(e.tasks), exposure.Task{Level: level, Time: min(j.more, 86400)}), time: e.time + j.more, guess: e.guess}
		if f, some := with.day(with.tasks); some {
			f.Key, f.Name = "day_level_planned", "dose.day_level_planned"
			j.doc.Figures = append(j.doc.Figures, f)
			if f.Value >= exposure.LowerAction && len(j.doc.Limits) == 0 {
				j.limits(f)
			}
		}
	}
	for _, b := range []struct {
		key, name string
		value     float64
	}{{"left_lower", "dose.left_lower", exposure.LowerAction}, {"left_upper", "dose.left_upper", exposure.UpperAction}} {
		var ends [3]float64
		for i, off := range []float64{0, z90, -z90} { // the same error lies on what was and what comes
			tasks := slices.Clone(e.tasks)
			for k := range tasks {
				tasks[k].Level += off * e.spread()
			}
			t, err := exposure.TimeLeft(level+off*e.spread(), b.value, tasks...)
			if err != nil {
				return err
			}
			ends[i] = min(t, 86400)
		}
		f := figure.Figure{Key: b.key, Name: b.name, Kind: quantity.Duration, Value: ends[0], Low: ends[1], High: ends[2], Basis: figure.Reckoned}
		j.doc.Figures = append(j.doc.Figures, f.Cite("EU2003", "article 3"))
	}
	return j.american(e)
}

// american are the averages of the two other schemes, among the reasons.
func (j *job) american(e *ears) error {
	s := answer.Section{Key: "dose_schemes", Notes: []fact.Saying{fact.Say("dose.schemes")}}
	for _, x := range []struct {
		key, name string
		scheme    exposure.Scheme
		source    string
	}{{"niosh", "dose.niosh_average", exposure.NIOSH98, "NIOSH1998"}, {"osha", "dose.osha_average", exposure.OSHA1910, "OSHA2026"}} {
		d, err := exposure.Dose(x.scheme, e.tasks...)
		if err != nil {
			return err
		}
		if d <= 0 {
			continue
		}
		level, err := exposure.AverageLevel(x.scheme, d)
		if err != nil {
			return err
		}
		s.Figures = append(s.Figures, figure.Exact(x.key, x.name, quantity.SoundLevel, level, figure.Reckoned).From("c + f·lg D").Cite(x.source, "average level"))
	}
	j.doc.Reasons = append(j.doc.Reasons, s)
	return nil
}
