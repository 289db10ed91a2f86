package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"time"

	"hopperful/fact"
	"hopperful/internal/account"
	"hopperful/internal/say"
	"hopperful/plan/sensing"
	"hopperful/shop"
)

// Sensors is who listens to the sensors of the shop.
type Sensors interface {
	Look() sensing.Seen
	Subscribe() (<-chan struct{}, func())
	SetAside(run int64) bool
	KeepIdle(mill string, watts float64) error
}

// routeSensors lists the addresses of what the sensors tell.
func (s *server) routeSensors(mux *http.ServeMux) {
	mux.HandleFunc("GET /sensors", s.showSensors)
	mux.HandleFunc("GET /sensors/live", s.streamSensors)
	mux.HandleFunc("GET /sensors/runs/{id}", s.showSeenRun)
	mux.HandleFunc("POST /sensors/runs/{id}", s.postSeenRun)
	mux.HandleFunc("POST /sensors/runs/{id}/aside", s.postAside)
	mux.HandleFunc("POST /sensors/runs/{id}/idle", s.postIdle)
	mux.HandleFunc("POST /sensors/watts", s.postWatts)
}

// seen is what the sensors tell; nothing where nobody listens.
func (s *server) seen() sensing.Seen {
	if s.sensors == nil {
		return sensing.Seen{Now: s.now()}
	}
	return s.sensors.Look()
}

// sensorView is one sensor on a page.
type sensorView struct {
	Name, Say, Value, State string
	Fresh                   bool
}

// sensorsView is the page of the sensors.
type sensorsView struct {
	docView
	Off     bool // these pages listen to nothing
	Sensors []sensorView
	Waiting []seenRunView
	Watts   []wattsView
}

// seenRunView is a run that waits.
type seenRunView struct {
	Say string
	To  string
	Aside,
	Idle string // where that is said; "" where it is no question
}

// wattsView is what runs taught of a mill.
type wattsView struct {
	docView
	Mill string
}

func (s *server) showSensors(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	seen := s.seen()
	doc := sensing.Of(d.state, seen)
	if wantsJSON(r) {
		writeJSON(w, http.StatusOK, d.say.Document(doc))
		return
	}
	v := sensorsView{docView: viewDocument(d.say, doc), Off: s.sensors == nil, Sensors: viewSensors(d.say, seen, "")}
	v.Leading = slices.DeleteFunc(v.Leading, func(t say.Table) bool { return t.Key == "live_sensors" }) // they are drawn live
	for _, run := range slices.Backward(sensing.Unconfirmed(d.state, seen)) {
		one := seenRunView{Say: d.say.Say(sensing.Told(run)), To: "/sensors/runs/" + strconv.FormatInt(run.ID, 10)}
		if one.Aside = one.To + "/aside"; run.Flat {
			one.Idle = one.To + "/idle"
		}
		v.Waiting = append(v.Waiting, one)
	}
	for _, m := range seen.Mills {
		if doc, set, err := sensing.Teach(d.state, seen, m.Name); err == nil && set != nil {
			v.Watts = append(v.Watts, wattsView{viewDocument(d.say, doc), m.Name})
		}
	}
	s.render(w, r, http.StatusOK, "sensors", view{Title: d.say.Line("page.sensors_title"), Place: "machines", Crumb: placeLink("machines"), Body: v})
}

func viewSensors(p *say.Printer, seen sensing.Seen, machine string) (all []sensorView) {
	for _, x := range seen.Sensors {
		if machine != "" && x.Machine != machine && x.Machine != "" {
			continue
		}
		v := sensorView{Name: x.Name, Say: p.Say(sensing.WhatWords(x.What)), State: p.Say(sensing.StateWords(x.State)), Fresh: x.State == sensing.Fresh, Value: "–"}
		if x.Machine != "" {
			v.Say = x.Machine + ", " + v.Say
		}
		if x.Value != nil {
			v.Value = p.Fact(fact.Measured("value", x.What.Kind(), *x.Value))
		}
		all = append(all, v)
	}
	return all
}

// liveView is what a page shows beside its own matter: the sensors of a machine and what
// they warn of.
type liveView struct {
	Machine string
	Sensors []sensorView
	Alerts  []string
}

// liveOf is that of a machine; nil where no sensor shows it.
func (s *server) liveOf(d *desk, machine string) *liveView {
	seen := s.seen()
	if !slices.ContainsFunc(seen.Sensors, func(x sensing.Sensor) bool { return x.Machine == machine }) {
		return nil
	}
	return &liveView{machine, viewSensors(d.say, seen, machine), alertsOf(d, seen, machine)}
}

func alertsOf(d *desk, seen sensing.Seen, machine string) []string {
	all := []string{}
	for _, f := range sensing.Alerts(d.state, seen, machine) {
		if f.Weight > 0 {
			text := d.say.Say(f.Saying)
			for _, remedy := range f.Remedies {
				text += " " + d.say.Say(remedy)
			}
			all = append(all, text)
		}
	}
	return all
}

// ranOf is the run that the sensors saw of a campaign's stop, nil where they saw none or it
// is on record.
func (s *server) ranOf(d *desk, c shop.Campaign) *sensing.Run {
	if s.sensors == nil {
		return nil
	}
	if run, ok := s.seen().OfCampaign(d.state, c); ok {
		return &run
	}
	return nil
}

// ranSays is what goes on record of it with the charge, in a line.
func (d *desk) ranSays(ran *sensing.Run) string {
	if ran == nil {
		return ""
	}
	return d.say.Say(sensing.Goes(*ran))
}

// Between two messages to one page.
const liveStep = 500 * time.Millisecond

// streamSensors tells an open page what the sensors show, as server-sent events.
func (s *server) streamSensors(w http.ResponseWriter, r *http.Request) {
	if s.sensors == nil {
		s.showMissing(w, r)
		return
	}
	news, end := s.sensors.Subscribe()
	defer end()
	h := w.Header()
	h.Set("Content-Type", "text/event-stream")
	h.Set("Cache-Control", "no-store")
	h.Set("X-Accel-Buffering", "no")
	out := http.NewResponseController(w)
	machine := r.URL.Query().Get("machine")
	tick := time.NewTicker(stillHere)
	defer tick.Stop()
	for {
		d := s.desk(r)
		seen := s.sensors.Look()
		text, err := json.Marshal(struct {
			Sensors []sensorView `json:"sensors"`
			Alerts  []string     `json:"alerts"`
		}{viewSensors(d.say, seen, machine), alertsOf(d, seen, machine)})
		if err != nil {
			return
		}
		if _, err := fmt.Fprintf(w, "event: sensors\ndata: %s\n\n", text); err != nil || out.Flush() != nil {
			return
		}
		if !s.waitForNews(r, news, tick.C) {
			return
		}
	}
}

// waitForNews waits until there is something to tell, false where nobody listens any more.
func (s *server) waitForNews(r *http.Request, news <-chan struct{}, still <-chan time.Time) bool {
	pause := time.NewTimer(liveStep)
	defer pause.Stop()
	select {
	case <-r.Context().Done():
		return false
	case <-s.ending:
		return false
	case <-pause.C:
	}
	select {
	case <-r.Context().Done():
		return false
	case <-s.ending:
		return false
	case <-news:
	case <-still:
	}
	return s.letIn(r)
}

// seenNumber is the number of a run in an address; 0, which no run has, where it is none.
func seenNumber(r *http.Request) int64 {
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		return 0
	}
	return id
}

// seenRun reads which run an address names, as a draft.
func (s *server) seenRun(w http.ResponseWriter, r *http.Request, d *desk) (*shop.Ground, time.Time, bool) {
	g, at, err := sensing.Draft(d.state, s.seen(), seenNumber(r))
	if err != nil {
		s.failWith(w, r, err)
		return nil, at, false
	}
	return g, at, true
}

// showSeenRun shows a run that was seen on the sheet of a charge: nothing is on record
// before somebody has looked it through and sent it.
func (s *server) showSeenRun(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	g, at, ok := s.seenRun(w, r, d)
	if !ok {
		return
	}
	sh := d.sheetOfSeen(g)
	values := answersOf(sh, shop.Record{At: at, Body: g}, d.now.Location(), d.say)
	for path, empty := range map[string]bool{"charge_kg": g.Charge == 0, "from": g.From == "", "into": g.Into == "", "level": g.Level == nil} {
		if empty {
			values.Del(path)
		}
	}
	sh.fields(func(f field) { // what neither sensor nor plan says begins as on an empty sheet
		if values.Get(f.Path) == "" && f.First != "" {
			values.Set(f.Path, f.First)
		}
	})
	s.drawSheet(w, r, d, http.StatusOK, sh, newInput(d.say, values))
}

// sheetOfSeen is the sheet of a charge for a run that was seen, all of it open.
func (d *desk) sheetOfSeen(g *shop.Ground) sheet {
	with := *d
	with.query = func(name string) string {
		if name == "mill" {
			return g.Mill
		}
		return d.query(name)
	}
	sh := chargeSheet(&with)
	for i := range sh.Groups {
		sh.Groups[i].Folded = false
	}
	sh.Clock = nil
	return sh
}

func (s *server) postSeenRun(w http.ResponseWriter, r *http.Request) {
	if !readForm(w, r) {
		s.fail(w, r, tooLarge)
		return
	}
	d := s.desk(r)
	g, _, ok := s.seenRun(w, r, d)
	if !ok {
		return
	}
	if rec, ok := s.writeSheet(w, r, d, d.sheetOfSeen(g), newInput(d.say, r.PostForm), nil, 0); ok {
		s.follow(w, r, "/sensors", rec.ID)
	}
}

// barred refuses somebody whose account may not do what asks for a role: what is kept beside
// the records is not asked about by their store.
func (s *server) barred(w http.ResponseWriter, r *http.Request, asks account.Role) bool {
	own, in := sessionIn(r.Context())
	if !in {
		return false
	}
	err := account.Check(own.Account, own.Role, asks)
	if err != nil {
		s.failWith(w, r, err)
	}
	return err != nil
}

// postAside says that nobody wants a run on record.
func (s *server) postAside(w http.ResponseWriter, r *http.Request) {
	id := seenNumber(r)
	if s.barred(w, r, account.Record) {
		return
	}
	if s.sensors == nil || !s.sensors.SetAside(id) {
		s.failWith(w, r, sensing.NoSuchRun(id))
		return
	}
	http.Redirect(w, r, "/sensors", http.StatusSeeOther)
}

// postIdle keeps what a mill drew in a run as what it draws empty.
func (s *server) postIdle(w http.ResponseWriter, r *http.Request) {
	id := seenNumber(r)
	if s.barred(w, r, account.Plan) {
		return
	}
	for _, run := range s.seen().Runs {
		if run.ID != id || !run.Flat {
			continue
		}
		if err := s.sensors.KeepIdle(run.Mill, run.Level); err != nil {
			s.failWith(w, r, err)
			return
		}
		s.sensors.SetAside(id)
		http.Redirect(w, r, "/sensors", http.StatusSeeOther)
		return
	}
	s.failWith(w, r, sensing.NoSuchRun(id))
}

// postWatts puts what runs taught of a mill's draw on record.
func (s *server) postWatts(w http.ResponseWriter, r *http.Request) {
	if !readForm(w, r) {
		s.fail(w, r, tooLarge)
		return
	}
	d := s.desk(r)
	_, set, err := sensing.Teach(d.state, s.seen(), r.PostForm.Get("mill"))
	if err != nil || set == nil {
		http.Redirect(w, r, "/sensors", http.StatusSeeOther)
		return
	}
	kept, err := s.store.Append(r.Context(), s.now(), shop.Record{Body: set})
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	s.follow(w, r, "/sensors", kept[0].ID)
}

// apiSensors is all that the sensors tell.
func (s *server) apiSensors(w http.ResponseWriter, _ *http.Request) {
	writeJSON(w, http.StatusOK, s.seen())
}

// asideSent names a run that nobody wants on record.
type asideSent struct {
	ID int64 `json:"id"`
}

// apiAside sets a run aside.
func (s *server) apiAside(w http.ResponseWriter, r *http.Request) {
	var sent asideSent
	if err := json.NewDecoder(http.MaxBytesReader(w, r.Body, 1<<10)).Decode(&sent); err != nil {
		s.refuse(w, r, http.StatusBadRequest, string(shop.Invalid), fact.Say("api.unreadable", fact.Name("why", "")), fact.Say("api.do_send_id"))
		return
	}
	if s.sensors == nil || !s.sensors.SetAside(sent.ID) {
		s.refuse(w, r, http.StatusNotFound, string(shop.NotFound), fact.Say("api.no_run", fact.Name("number", fmt.Sprint(sent.ID))), fact.Say("api.do_see_runs", fact.Name("path", apiRoot+"sensors")))
		return
	}
	writeJSON(w, http.StatusOK, struct{}{})
}
