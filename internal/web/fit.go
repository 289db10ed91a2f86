package web

import (
	"fmt"
	"net/http"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/fit"
	"hopperful/quantity"
	"hopperful/shop"
)

// fitPath is the page for a lot and a print.
func fitPath(lot shop.LotID, need string) string {
	return "/fit/" + pathSegment(string(lot)) + "/" + pathSegment(need)
}

// fitSheet asks what the check may be told.
func fitSheet(d *desk) sheet {
	var printers []option
	for _, p := range d.state.Printers {
		if !p.Retired {
			printers = append(printers, option{p.Name, p.Name})
		}
	}
	fields := []field{
		amount("nozzle_m", "form.another_nozzle", quantity.Length, "mm", "form.empty_takes_the_printers"),
		amount("temperature_k", "form.temperature_of_the_melt", quantity.Temperature, "°C", "form.empty_takes_usual_sentence"),
		amount("strength", "form.strength_it_must_keep", quantity.Share, "%", "form.of_a_fresh_prints_empty"),
	}
	if len(printers) > 1 {
		fields = append([]field{{Path: "printer", Label: "form.printer", As: asSelect, Choices: printers}}, fields...)
	}
	return sheet{Submit: "form.ask_again", Groups: []group{{Fields: fields}}}
}

// fitAsked reads the address /fit/LOT/NEED?printer=…; false when the answer is
// already given.
func (s *server) fitAsked(w http.ResponseWriter, r *http.Request, d *desk) (fit.Request, asked, bool) {
	lot, err := shop.ParseLot(r.PathValue("lot"))
	need, ok := d.state.Need(r.PathValue("need"))
	if _, known := d.state.Lot(lot); err != nil || !ok || !known {
		s.fail(w, r, fault{http.StatusNotFound, "form.there_is_no_such_lot", "form.the_page_of_prints_and"})
		return fit.Request{}, asked{}, false
	}
	a := readQuery(d.say, r.URL.Query(), fitSheet(d))
	return fit.Request{Lot: lot, Need: need, Printer: a.words["printer"], Nozzle: a.number("nozzle_m"),
		Temperature: a.number("temperature_k"), Strength: a.number("strength"), Now: d.now}, a, true
}

func (s *server) askFit(st *shop.State, req fit.Request, a asked) *job {
	key := fmt.Sprintf("%d|%s|%s|%s", st.Newest().ID, req.Lot, req.Need.Name, a.key())
	return s.slow.ask("fitness", key, func() (any, error) { return fit.Judge(st, req) })
}

func (s *server) showFit(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	req, a, ok := s.fitAsked(w, r, d)
	if !ok {
		return
	}
	lot, need := fact.Name("lot", string(req.Lot)), fact.Name("need", req.Need.Name)
	back := view{Title: d.say.Line("page.fit_title", lot.As("lot"), need.As("need")), Place: "plan", Crumb: &link{planPath(req.Need.Name), d.say.Line("page.plan_for", need.As("need"))}}
	found, ok := awaitAsked[fit.Fitness](s, w, r, a, func() *job { return s.askFit(d.state, req, a) }, d.say.Line("page.fit_waiting", lot.As("lot"), need.As("need")), back)
	if !ok {
		return
	}
	v := answerView{Act: d.fitAct(found, req), More: []link{{"/dry/" + pathSegment(string(req.Lot)), d.say.Line("go.dry")}, {planPath(req.Need.Name), d.say.Line("go.plan")}}}
	if found.Refused == nil && !found.Mixed {
		for _, code := range []string{"room.time", "room.temperature", "room.screw", "room.factor", "room.minute", "room.note"} {
			v.Room = append(v.Room, d.say.Line(code))
		}
	}
	s.showAnswer(w, r, d, v, found.Document, fitSheet(d), a, back)
}

func (s *server) downloadFit(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	req, a, ok := s.fitAsked(w, r, d)
	if !ok || s.unreadable(w, r, a) {
		return
	}
	s.sendJob(w, r, s.askFit(d.state, req, a), r.PathValue("chart"), func(v any) []answer.Chart { return d.say.Document(v.(fit.Fitness).Document).Charts })
}

// fitAct is where the deciding question is worked on.
func (d *desk) fitAct(f fit.Fitness, req fit.Request) link {
	if f.Refused == nil && !f.Mixed && f.Verdict != answer.Yes {
		for _, x := range f.Items {
			if to := placeOf(d.say, change(x)); x.Key == f.Decides && to != nil {
				return *to
			}
		}
	}
	if f.Refused != nil || f.Mixed {
		return link{lotPath(req.Lot), d.say.Line("go.lot", fact.Name("lot", string(req.Lot)))}
	}
	return link{"/record/print?lot=" + string(req.Lot) + "&need=" + queryEscape(req.Need.Name), d.say.Line("go.print")}
}

// change is what would change an answer; empty where nothing need.
func change(x fit.Item) fact.Saying {
	if x.Change == nil {
		return fact.Saying{}
	}
	return x.Change.Do
}
