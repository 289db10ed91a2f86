package mills

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
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/internal/web/site"
	"hopperful/plan/sensing"
	"hopperful/shop"
)

// sensorView is one sensor on a page.
type sensorView struct {
	Name, Say, Value, State string
	Fresh                   bool
}

// sensorsView is the page of the sensors.
type sensorsView struct {
	figures.Document
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
	figures.Document
	Mill string
}

// ShowSensors is the page of the sensors and of the runs that wait.
func ShowSensors(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	seen := s.Seen()
	doc := sensing.Of(d.State, seen)
	if desk.WantsJSON(r) {
		site.WriteJSON(w, http.StatusOK, d.Say.Document(doc))
		return
	}
	v := sensorsView{Document: figures.Laid(d.Say, doc), Off: s.Sensors == nil, Sensors: viewSensors(d.Say, seen, "")}
	for i := range v.Remedies { // this is the page they lead to
		if to := v.Remedies[i].To; to != nil && to.To == r.URL.Path {
			v.Remedies[i].To = nil
		}
	}
	v.Leading = slices.DeleteFunc(v.Leading, func(t say.Table) bool { return t.Key == "live_sensors" }) // they are drawn live
	for _, run := range slices.Backward(sensing.Unconfirmed(d.State, seen)) {
		one := seenRunView{Say: d.Say.Say(sensing.Told(run)), To: "/sensors/runs/" + strconv.FormatInt(run.ID, 10)}
		if one.Aside = one.To + "/aside"; run.Flat {
			one.Idle = one.To + "/idle"
		}
		v.Waiting = append(v.Waiting, one)
	}
	for _, m := range seen.Mills {
		if doc, set, err := sensing.Teach(d.State, seen, m.Name); err == nil && set != nil {
			v.Watts = append(v.Watts, wattsView{figures.Laid(d.Say, doc), m.Name})
		}
	}
	s.Render(w, r, http.StatusOK, "sensors", site.View{Title: d.Say.Line("page.sensors_title"), Place: "machines", Crumb: site.PlaceLink("machines"), Body: v})
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
func liveOf(s *site.Site, d *desk.Desk, machine string) *liveView {
	seen := s.Seen()
	if !slices.ContainsFunc(seen.Sensors, func(x sensing.Sensor) bool { return x.Machine == machine }) {
		return nil
	}
	return &liveView{machine, viewSensors(d.Say, seen, machine), alertsOf(d, seen, machine)}
}

func alertsOf(d *desk.Desk, seen sensing.Seen, machine string) []string {
	all := []string{}
	for _, f := range sensing.Alerts(d.State, seen, machine) {
		if f.Weight > 0 {
			text := d.Say.Say(f.Saying)
			for _, remedy := range f.Remedies {
				text += " " + d.Say.Say(remedy)
			}
			all = append(all, text)
		}
	}
	return all
}

// ranOf is the run that the sensors saw of a campaign's stop, nil where they saw none or it
// is on record.
func ranOf(s *site.Site, d *desk.Desk, c shop.Campaign) *sensing.Run {
	if s.Sensors == nil {
		return nil
	}
	if run, ok := s.Seen().OfCampaign(d.State, c); ok {
		return &run
	}
	return nil
}

// ranSays is what goes on record of it with the charge, in a line.
func ranSays(d *desk.Desk, ran *sensing.Run) string {
	if ran == nil {
		return ""
	}
	return d.Say.Say(sensing.Goes(*ran))
}

// Between two messages to one page.
const liveStep = 500 * time.Millisecond

// StreamSensors tells an open page what the sensors show, as server-sent events.
func StreamSensors(s *site.Site, w http.ResponseWriter, r *http.Request) {
	if s.Sensors == nil {
		s.ShowMissing(w, r)
		return
	}
	news, end := s.Sensors.Subscribe()
	defer end()
	h := w.Header()
	h.Set("Content-Type", "text/event-stream")
	h.Set("Cache-Control", "no-store")
	h.Set("X-Accel-Buffering", "no")
	out := http.NewResponseController(w)
	machine := r.URL.Query().Get("machine")
	tick := time.NewTicker(site.StillHere)
	defer tick.Stop()
	for {
		d := s.Desk(r)
		seen := s.Sensors.Look()
		text, err := json.Marshal(struct {
			Sensors []sensorView `json:"sensors"`
			Alerts  []string     `json:"alerts"`
		}{viewSensors(d.Say, seen, machine), alertsOf(d, seen, machine)})
		if err != nil {
			return
		}
		if _, err := fmt.Fprintf(w, "event: sensors\ndata: %s\n\n", text); err != nil || out.Flush() != nil {
			return
		}
		if !waitForNews(s, r, news, tick.C) {
			return
		}
	}
}

// waitForNews waits until there is something to tell, false where nobody listens any more.
func waitForNews(s *site.Site, r *http.Request, news <-chan struct{}, still <-chan time.Time) bool {
	pause := time.NewTimer(liveStep)
	defer pause.Stop()
	select {
	case <-r.Context().Done():
		return false
	case <-s.Ending:
		return false
	case <-pause.C:
	}
	select {
	case <-r.Context().Done():
		return false
	case <-s.Ending:
		return false
	case <-news:
	case <-still:
	}
	return s.LetIn(r)
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
func seenRun(s *site.Site, w http.ResponseWriter, r *http.Request, d *desk.Desk) (*shop.Ground, time.Time, bool) {
	g, at, err := sensing.Draft(d.State, s.Seen(), seenNumber(r))
	if err != nil {
		s.FailWith(w, r, err)
		return nil, at, false
	}
	return g, at, true
}

// ShowSeenRun shows a run that was seen on the sheet of a charge: nothing is on record
// before somebody has looked it through and sent it.
func ShowSeenRun(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	g, at, ok := seenRun(s, w, r, d)
	if !ok {
		return
	}
	sh := sheetOfSeen(d, g)
	values := forms.AnswersOf(sh, shop.Record{At: at, Body: g}, d.Now.Location(), d.Say)
	for path, empty := range map[string]bool{"charge_kg": g.Charge == 0, "from": g.From == "", "into": g.Into == "", "level": g.Level == nil} {
		if empty {
			values.Del(path)
		}
	}
	sh.Fields(func(f forms.Field) { // what neither sensor nor plan says begins as on an empty sheet
		if values.Get(f.Path) == "" && f.First != "" {
			values.Set(f.Path, f.First)
		}
	})
	s.DrawSheet(w, r, d, http.StatusOK, sh, forms.NewInput(d.Say, values))
}

// sheetOfSeen is the sheet of a charge for a run that was seen, all of it open.
func sheetOfSeen(d *desk.Desk, g *shop.Ground) forms.Sheet {
	with := *d
	with.Query = func(name string) string {
		if name == "mill" {
			return g.Mill
		}
		return d.Query(name)
	}
	sh := sheets.Charge(&with)
	for i := range sh.Groups {
		sh.Groups[i].Folded = false
	}
	sh.Clock = nil
	return sh
}

// PostSeenRun writes down a run that a sensor saw.
func PostSeenRun(s *site.Site, w http.ResponseWriter, r *http.Request) {
	if !forms.ReadForm(w, r) {
		s.Fail(w, r, site.TooLarge)
		return
	}
	d := s.Desk(r)
	g, _, ok := seenRun(s, w, r, d)
	if !ok {
		return
	}
	if rec, ok := s.WriteSheet(w, r, d, sheetOfSeen(d, g), forms.NewInput(d.Say, r.PostForm), nil, 0); ok {
		s.Follow(w, r, "/sensors", rec.ID)
	}
}

// barred refuses somebody whose account may not do what asks for a role: what is kept beside
// the records is not asked about by their store.
func barred(s *site.Site, w http.ResponseWriter, r *http.Request, asks account.Role) bool {
	own, in := site.SessionIn(r.Context())
	if !in {
		return false
	}
	err := account.Check(own.Account, own.Role, asks)
	if err != nil {
		s.FailWith(w, r, err)
	}
	return err != nil
}

// PostAside says that nobody wants a run on record.
func PostAside(s *site.Site, w http.ResponseWriter, r *http.Request) {
	id := seenNumber(r)
	if barred(s, w, r, account.Record) {
		return
	}
	if s.Sensors == nil || !s.Sensors.SetAside(id) {
		s.FailWith(w, r, sensing.NoSuchRun(id))
		return
	}
	http.Redirect(w, r, "/sensors", http.StatusSeeOther)
}

// PostIdle keeps what a mill drew in a run as what it draws empty.
func PostIdle(s *site.Site, w http.ResponseWriter, r *http.Request) {
	id := seenNumber(r)
	if barred(s, w, r, account.Plan) {
		return
	}
	for _, run := range s.Seen().Runs {
		if run.ID != id || !run.Flat {
			continue
		}
		if err := s.Sensors.KeepIdle(run.Mill, run.Level); err != nil {
			s.FailWith(w, r, err)
			return
		}
		s.Sensors.SetAside(id)
		http.Redirect(w, r, "/sensors", http.StatusSeeOther)
		return
	}
	s.FailWith(w, r, sensing.NoSuchRun(id))
}

// PostWatts puts what runs taught of a mill's draw on record.
func PostWatts(s *site.Site, w http.ResponseWriter, r *http.Request) {
	if !forms.ReadForm(w, r) {
		s.Fail(w, r, site.TooLarge)
		return
	}
	d := s.Desk(r)
	_, set, err := sensing.Teach(d.State, s.Seen(), r.PostForm.Get("mill"))
	if err != nil || set == nil {
		http.Redirect(w, r, "/sensors", http.StatusSeeOther)
		return
	}
	kept, err := s.Store.Append(r.Context(), s.Now(), shop.Record{Body: set})
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	s.Follow(w, r, "/sensors", kept[0].ID)
}

// APISensors is all that the sensors tell.
func APISensors(s *site.Site, w http.ResponseWriter, _ *http.Request) {
	site.WriteJSON(w, http.StatusOK, s.Seen())
}

// AsideSent names a run that nobody wants on record.
type AsideSent struct {
	ID int64 `json:"id"`
}

// APIAside sets a run aside.
func APIAside(s *site.Site, w http.ResponseWriter, r *http.Request) {
	var sent AsideSent
	if err := json.NewDecoder(http.MaxBytesReader(w, r.Body, 1<<10)).Decode(&sent); err != nil {
		s.RefuseProgram(w, r, http.StatusBadRequest, string(shop.Invalid), fact.Say("api.unreadable", fact.Name("why", "")), fact.Say("api.do_send_id"))
		return
	}
	if s.Sensors == nil || !s.Sensors.SetAside(sent.ID) {
		s.RefuseProgram(w, r, http.StatusNotFound, string(shop.NotFound), fact.Say("api.no_run", fact.Name("number", fmt.Sprint(sent.ID))), fact.Say("api.do_see_runs", fact.Name("path", site.APIRoot+"sensors")))
		return
	}
	site.WriteJSON(w, http.StatusOK, struct{}{})
}
