package sensing

import (
	"math"
	"slices"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/process/trace"
	"hopperful/quantity"
	"hopperful/shop"
)

// When something is worth an alert. Judgement.
const (
	trendSpan   = 120.0 // s of a wall's warming that its trend is taken from
	leastTrend  = 20.0
	ratingSpan  = 45.0 // s of readings that a minute's mean needs
	stallShown  = 600.0
	leastDamp   = 600.0  // s of readings that tell where a dryer's humidity is heading
	dampAhead   = 1800.0 // s
	dampRise    = 0.03   // of relative humidity
	fartherGaps = 10.0   // s between readings that a minute's mean still bridges
)

// How much an alert weighs against the others.
const (
	stallWeight = 1.0
	wallWeight  = 0.9
	drawWeight  = 0.8
	emptyWeight = 0.5
	dampWeight  = 0.4
	deafWeight  = 0.3

	unkeptWeight = 0.6
)

// Alerts are what somebody should look at, at one machine or, with "", at all of them.
// Each is advice: the sensors lag, and nothing here switches anything.
func Alerts(s *shop.State, seen Seen, machine string) []answer.Finding {
	w := watch{state: s, seen: seen}
	if seen.Unkept != "" {
		w.add(unkeptWeight, fact.Say("live.unkept", fact.Name("why", seen.Unkept)), fact.Say("live.unkept_do"))
	}
	for _, m := range seen.Mills {
		if machine == "" || m.Name == machine {
			w.mill(m)
		}
	}
	for _, x := range seen.Sensors {
		if machine == "" || x.Machine == machine || x.Machine == "" {
			w.sensor(x)
			w.damp(x)
		}
	}
	return w.found
}

type watch struct {
	state *shop.State
	seen  Seen
	found []answer.Finding
}

func (w *watch) add(weight float64, what fact.Saying, remedies ...fact.Saying) {
	f := answer.Found(what, remedies...)
	f.Weight = weight
	at := len(w.found)
	for at > 0 && w.found[at-1].Weight < weight {
		at--
	}
	w.found = slices.Insert(w.found, at, f)
}

// mill looks at a mill: a stall, the wall, the draw, running on empty.
func (w *watch) mill(m Mill) {
	name := fact.Name("mill", m.Name)
	now := float64(w.seen.Now.UnixMilli()) / 1000
	for _, e := range m.Events {
		if e.What == trace.Stalled && (m.Running || now-e.At.At < stallShown) {
			w.add(stallWeight, fact.Say("live.stall", name, fact.Moment("at", At(e.At.At))), fact.Say("live.stall_do"))
			break
		}
	}
	if !m.Running {
		return
	}
	w.wall(m)
	w.draw(m)
	if n := len(m.Events); n > 0 && m.Events[n-1].What == trace.RunsEmpty {
		w.add(emptyWeight, fact.Say("live.runs_empty", name), fact.Say("live.runs_empty_do"))
	}
}

// wall forecasts where the wall will be when the countdown of the run ends.
func (w *watch) wall(m Mill) {
	c, ok := w.state.Running(m.Name)
	if !ok || c.Now.Wall == nil {
		return
	}
	limit := *c.Now.Wall
	name, at := fact.Name("mill", m.Name), fact.Set("limit", quantity.Temperature, limit)
	for _, x := range w.seen.Sensors {
		if x.What != Wall || x.Machine != m.Name || x.Value == nil || x.State != Fresh {
			continue
		}
		if *x.Value >= limit {
			w.add(wallWeight, fact.Say("live.wall_over", name, at, fact.Measured("wall", quantity.Temperature, *x.Value)), fact.Say("live.wall_stop"))
			continue
		}
		if c.Stage != shop.RunStage {
			continue
		}
		end := float64(c.Started.UnixMilli())/1000 + c.Now.Run
		b, passes, ok := heading(x.Recent, m.Run.Start.At, end, limit)
		if !ok || b.Mid < limit {
			continue
		}
		in := fact.About("in", quantity.Duration, math.Max(0, passes-float64(w.seen.Now.UnixMilli())/1000))
		forecast := fact.About("wall", quantity.Temperature, b.Mid)
		if b.Low >= limit {
			w.add(wallWeight, fact.Say("live.wall_will_pass", name, at, forecast, in), fact.Say("live.wall_stop"))
		} else {
			w.add(wallWeight, fact.Say("live.wall_may_pass", name, at, forecast, in), fact.Say("live.wall_stop"))
		}
	}
}

// heading is where the wall will be at the end, and when its trend passes the limit.
func heading(recent []trace.Reading, start, end, limit float64) (b trace.Band, passes float64, ok bool) {
	n := len(recent)
	if n == 0 {
		return b, passes, false
	}
	last := recent[n-1].At
	from := n
	for from > 0 && recent[from-1].At >= math.Max(start, last-trendSpan) {
		from--
	}
	used := recent[from:]
	if len(used) == 0 || last-used[0].At < leastTrend || end <= last {
		return b, passes, false
	}
	now, err := trace.Ahead(used, last)
	if err != nil {
		return b, passes, false
	}
	end = math.Min(end, last+3600) // as far as a trend is believed
	if b, err = trace.Ahead(used, end); err != nil {
		return b, passes, false
	}
	passes = end
	if rise := b.Mid - now.Mid; rise > 0 {
		passes = last + (limit-now.Mid)/rise*(end-last)
	}
	return b, passes, true
}

// draw holds the mean of a minute against what motor and controller may carry all day.
func (w *watch) draw(m Mill) {
	st, ok := w.state.Mill(m.Name)
	n := len(m.Minute)
	if !ok || n < 2 || m.Minute[n-1].At-m.Minute[0].At < ratingSpan {
		return
	}
	rating := math.Inf(1)
	if st.ContinuousPower != nil {
		rating = *st.ContinuousPower
	}
	if st.Controller != nil && st.Controller.Continuous != nil {
		rating = math.Min(rating, *st.Controller.Continuous)
	}
	j, err := trace.Energy(m.Minute, fartherGaps, 0)
	if err != nil || j.Unseen > 0 {
		return
	}
	if mean := j.Mid / (m.Minute[n-1].At - m.Minute[0].At); mean > rating {
		w.add(drawWeight, fact.Say("live.over_rating", fact.Name("mill", m.Name), fact.Measured("draw", quantity.Power, mean), fact.Set("rating", quantity.Power, rating)),
			fact.Say("live.over_rating_do"))
	}
}

// damp looks whether the air in a dryer grows damper while it should dry.
func (w *watch) damp(x Sensor) {
	n := len(x.Recent)
	if x.What != Humidity || x.Machine == "" || x.State != Fresh || n < 4 || x.Recent[n-1].At-x.Recent[0].At < leastDamp {
		return
	}
	dries := false
	for _, d := range w.state.Dryers {
		dries = dries || d.Name == x.Machine && !d.Retired
	}
	b, err := trace.Ahead(x.Recent, x.Recent[n-1].At+dampAhead)
	if !dries || err != nil || b.Low < *x.Value+dampRise {
		return
	}
	w.add(dampWeight, fact.Say("live.damper", fact.Name("dryer", x.Machine), fact.Measured("now", quantity.Humidity, *x.Value), fact.About("soon", quantity.Humidity, math.Min(1, b.Mid))),
		fact.Say("live.damper_do"))
}

// sensor says that one is not to be believed now.
func (w *watch) sensor(x Sensor) {
	name := fact.Name("sensor", x.Name)
	switch x.State {
	case Silent:
		w.add(deafWeight, fact.Say("live.sensor_silent", name, fact.About("since", quantity.Duration, w.seen.Now.Sub(x.At).Seconds())), fact.Say("live.sensor_silent_do"))
	case Offline:
		w.add(deafWeight, fact.Say("live.sensor_offline", name), fact.Say("live.sensor_silent_do"))
	case Frozen:
		w.add(deafWeight, fact.Say("live.sensor_frozen", name), fact.Say("live.sensor_frozen_do"))
	}
	if x.Unread > 0 && x.Taken == 0 {
		w.add(deafWeight, fact.Say("live.sensor_unread", name, fact.Parts("fault", faultWords(x.Fault))), fact.Say("live.sensor_unread_do"))
	}
	if math.Abs(x.Skew) > skewShown {
		w.add(0, fact.Say("live.sensor_skew", name, fact.About("by", quantity.Duration, math.Abs(x.Skew))))
	}
}

// skewShown is how far a sensor's own clock may be off without a word [s].
const skewShown = 60.0

func faultWords(f Fault) fact.Saying {
	switch f {
	case NoNumber:
		return fact.Say("live.fault_number")
	case Outside:
		return fact.Say("live.fault_outside")
	case TooLong:
		return fact.Say("live.fault_long")
	case TooDeep:
		return fact.Say("live.fault_deep")
	}
	return fact.Say("live.fault_json")
}

// ago is how long before now a moment was [s], for the time that no one has waited.
func ago(now, at time.Time) float64 { return math.Max(0, now.Sub(at).Seconds()) }
