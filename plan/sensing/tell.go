package sensing

import (
	"strconv"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/source"
)

// mostWaiting is how many runs that wait are told as steps; the table has them all.
const mostWaiting = 3

// mostListed bounds the table of runs.
const mostListed = 20

// Of is what the sensors tell now.
func Of(s *shop.State, seen Seen) answer.Document {
	taken := bookOf(s, seen).taken(seen.Runs)
	t := &told{seen: seen, taken: taken, waiting: seen.waiting(taken), alerts: Alerts(s, seen, "")}
	t.doc.Head = t.head()
	t.steps()
	t.doc.Spoilers = t.alerts
	t.doc.Figures = t.figures()
	t.sensors()
	t.runs()
	t.doc.Cautions = Cautions()
	return t.doc
}

// Cautions are what stands beside everything that sensors tell.
func Cautions() []answer.Finding {
	return []answer.Finding{
		answer.Found(fact.Say("live.no_safety_device")), answer.Found(fact.Say("live.mains"), fact.Say("live.mains_do")), answer.Found(fact.Say("live.lags")),
	}
}

type told struct {
	seen    Seen
	taken   map[int64]written
	waiting []Run
	alerts  []answer.Finding
	doc     answer.Document
}

func (t *told) head() answer.Finding {
	n := fact.Count("n", len(t.seen.Sensors))
	heard := 0
	for _, x := range t.seen.Sensors {
		if x.State == Fresh {
			heard++
		}
	}
	switch {
	case t.seen.Refused:
		return answer.Found(fact.Say("live.refused"), fact.Say("do.set_broker"))
	case t.seen.Link == LinkDown:
		return answer.Found(fact.Say("live.link_down", fact.Name("why", t.seen.Why)), fact.Say("do.set_broker"))
	case t.seen.Link == LinkOff && len(t.seen.Sensors) == 0:
		return answer.Found(fact.Say("live.none"), fact.Say("do.set_broker"))
	case t.seen.Link == LinkOff:
		return answer.Found(fact.Say("live.not_listening", n), fact.Say("live.start_serve"))
	case len(t.seen.Sensors) == 0:
		return answer.Found(fact.Say("live.no_sensor"), fact.Say("do.add_sensor"))
	case t.seen.Link == LinkConnecting:
		return answer.Found(fact.Say("live.connecting", n))
	case len(t.alerts) > 0 && t.alerts[0].Weight > 0:
		return answer.Finding{Saying: t.alerts[0].Saying, Remedies: t.alerts[0].Remedies}
	}
	for _, m := range t.seen.Mills {
		if m.Running {
			return answer.Found(fact.Say("live.mill_runs", fact.Name("mill", m.Name), fact.About("since", quantity.Duration, ago(t.seen.Now, At(m.Run.Start.At)))))
		}
	}
	return answer.Found(fact.Say("live.heard", fact.Count("heard", heard), n))
}

// steps are the runs to confirm, and what idles without being known.
func (t *told) steps() {
	for i := len(t.waiting) - 1; i >= 0 && len(t.doc.Steps) < mostWaiting; i-- {
		r := t.waiting[i]
		mill := fact.Name("mill", r.Mill)
		do := fact.Say("do.confirm_run", mill, fact.Name("id", number(r.ID)))
		if r.Flat {
			do = fact.Say("do.take_idle", mill, fact.Name("id", number(r.ID)))
		}
		t.doc.Steps = append(t.doc.Steps, answer.Action{Do: do, Why: Told(r)})
	}
	for _, m := range t.seen.Mills {
		if m.Known.Idle == 0 {
			t.doc.Steps = append(t.doc.Steps, answer.Action{Do: fact.Say("live.idle_unknown", fact.Name("mill", m.Name)), Why: fact.Say("live.idle_why")})
		}
	}
}

func number(id int64) string { return strconv.FormatInt(id, 10) }

// meterError is how far a plug-in meter's energy may be off; judgement, see the model's page.
const meterError = 0.05

// figures are those of the newest run that waits.
func (t *told) figures() []figure.Figure {
	if len(t.waiting) == 0 {
		return nil
	}
	r := t.waiting[len(t.waiting)-1]
	from := source.Ref{Key: "LiikkanenNieminen2009", Place: "abstract"}
	drawn := figure.Figure{Key: "run_energy", Name: "live.figure_energy", About: r.Mill, Kind: quantity.Energy, Value: r.Energy.Mid, Low: r.Energy.Low * (1 - meterError), High: r.Energy.High * (1 + meterError),
		Basis: figure.Measured, How: "E = Σ (P_i + P_{i+1})/2 Δt", Sources: []source.Ref{from}}
	if r.Energy.Unseen > 0 {
		drawn.Warnings = append(drawn.Warnings, "live.warn_unseen")
	}
	all := []figure.Figure{
		{Key: "run_time", Name: "live.figure_time", About: r.Mill, Kind: quantity.Duration, Value: r.Time(), Low: r.least(), High: r.Time() + r.Doubt(), Basis: figure.Measured, How: "t = t_stop − t_start"},
		drawn,
	}
	if r.End != nil {
		end := r.End.At - r.Start.At
		f := figure.Figure{Key: "run_end", Name: "live.figure_end", About: r.Mill, Kind: quantity.Duration, Value: end, Low: max(0, end-r.End.Doubt), High: end + r.End.Doubt, Basis: figure.Reckoned, How: "P_15 < 1.1 P_idle"}
		if r.Guess {
			f.Warnings = append(f.Warnings, "live.warn_idle_guess")
		}
		all = append(all, f)
	}
	if r.Cooling != nil {
		all = append(all, figure.Figure{Key: "cooling_time", Name: "live.figure_cooling", About: r.Mill, Kind: quantity.Duration, Value: r.Cooling.Tau.Mid, Low: r.Cooling.Tau.Low, High: r.Cooling.Tau.High,
			Basis: figure.Learned, Runs: 1, How: "T = T_room + (T_0 − T_room) exp(−t/τ)"})
	}
	return all
}

// sensors lists what each of them shows.
func (t *told) sensors() {
	if len(t.seen.Sensors) == 0 {
		return
	}
	table := answer.Table{Key: "live_sensors", Leads: true, Columns: []answer.Column{{Key: "live_sensor"}, {Key: "live_shows"}, {Key: "live_value", Numbers: true}, {Key: "live_age", Numbers: true}, {Key: "live_state"}, {Key: "live_machine"}}}
	for _, x := range t.seen.Sensors {
		value, age := fact.Name("live_value", "–"), fact.Name("live_age", "–")
		if x.Value != nil {
			value, age = fact.Measured("live_value", x.What.Kind(), *x.Value), fact.About("live_age", quantity.Duration, ago(t.seen.Now, x.At))
		}
		table.Rows = append(table.Rows, []fact.Fact{fact.Name("live_sensor", x.Name), fact.Parts("live_shows", WhatWords(x.What)), value, age, fact.Parts("live_state", StateWords(x.State)), fact.Name("live_machine", x.Machine)})
		if x.Dropped > 0 && len(table.Notes) == 0 {
			table.Notes = append(table.Notes, fact.Say("live.dropped", fact.Count("n", int(x.Dropped))))
		}
	}
	t.doc.Tables = append(t.doc.Tables, table)
}

// runs lists what was seen of runs, the newest first.
func (t *told) runs() {
	if len(t.seen.Runs) == 0 {
		return
	}
	table := answer.Table{Key: "live_runs", Columns: []answer.Column{{Key: "live_number"}, {Key: "live_started"}, {Key: "live_machine"}, {Key: "ran", Numbers: true}, {Key: "live_drawn", Numbers: true}, {Key: "live_ended", Numbers: true}, {Key: "live_becomes"}}}
	for i := len(t.seen.Runs) - 1; i >= 0 && len(table.Rows) < mostListed; i-- {
		r := t.seen.Runs[i]
		end := fact.Name("live_ended", "–")
		if r.End != nil {
			end = fact.About("live_ended", quantity.Duration, r.End.At-r.Start.At)
		}
		drawn := fact.Parts("live_drawn", fact.Say("live.span", fact.About("low", quantity.Energy, r.Energy.Low), fact.About("high", quantity.Energy, r.Energy.High)))
		table.Rows = append(table.Rows, []fact.Fact{fact.Name("live_number", number(r.ID)), fact.Moment("live_started", At(r.Start.At)), fact.Name("live_machine", r.Mill),
			fact.Measured("ran", quantity.Duration, r.Time()), drawn, end, fact.Parts("live_becomes", t.becomes(r))})
	}
	t.doc.Tables = append(t.doc.Tables, table)
}

// becomes is what became of a run.
func (t *told) becomes(r Run) fact.Saying {
	for _, w := range t.waiting {
		if w.ID == r.ID {
			return fact.Say("live.waits")
		}
	}
	if r.Aside {
		return fact.Say("live.set_aside")
	}
	return fact.Say("live.is_record", fact.Count("n", int(t.taken[r.ID].id)))
}

// Line is what a sensor shows, in a line.
func Line(x Sensor) fact.Saying {
	value := fact.Name("value", "–")
	if x.Value != nil {
		value = fact.Measured("value", x.What.Kind(), *x.Value)
	}
	return fact.Say("live.watched", fact.Name("sensor", x.Name), fact.Parts("what", WhatWords(x.What)), value)
}

// WhatWords is a quantity in words.
func WhatWords(w What) fact.Saying {
	switch w {
	case Power:
		return fact.Say("live.what_power")
	case Energy:
		return fact.Say("live.what_energy")
	case Wall:
		return fact.Say("live.what_wall")
	case Room:
		return fact.Say("live.what_room")
	case Humidity:
		return fact.Say("live.what_humidity")
	}
	return fact.Say("live.what_sound")
}

// StateWords is a sensor's state in words.
func StateWords(s State) fact.Saying {
	switch s {
	case Waiting:
		return fact.Say("live.state_waiting")
	case Fresh:
		return fact.Say("live.state_fresh")
	case Silent:
		return fact.Say("live.state_silent")
	case Frozen:
		return fact.Say("live.state_frozen")
	}
	return fact.Say("live.state_offline")
}
