package prints

import (
	"fmt"
	"net/http"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
	"hopperful/internal/web/waiting"
	"hopperful/plan/fit"
	"hopperful/quantity"
	"hopperful/shop"
)

// fitSheet asks what the check may be told.
func fitSheet(d *desk.Desk) forms.Sheet {
	var printers []forms.Option
	for _, p := range d.State.Printers {
		if !p.Retired {
			printers = append(printers, forms.Option{Value: p.Name, Say: p.Name})
		}
	}
	fields := []forms.Field{
		forms.Amount("nozzle_m", "form.another_nozzle", quantity.Length, "mm", "form.empty_takes_the_printers"),
		forms.Amount("temperature_k", "form.temperature_of_the_melt", quantity.Temperature, "°C", "form.empty_takes_usual_sentence"),
		forms.Amount("strength", "form.strength_it_must_keep", quantity.Share, "%", "form.melt_flow_least_help"),
	}
	if len(printers) > 1 {
		fields = append([]forms.Field{{Path: "printer", Label: "form.printer", As: forms.AsSelect, Choices: printers}}, fields...)
	}
	return forms.Sheet{Submit: "form.ask_again", Groups: []forms.Group{{Fields: fields}}}
}

// fitAsked reads the address /fit/LOT/NEED?printer=…; false when the answer is
// already given.
func fitAsked(s *site.Site, w http.ResponseWriter, r *http.Request, d *desk.Desk) (fit.Request, forms.Asked, bool) {
	lot, err := shop.ParseLot(r.PathValue("lot"))
	need, ok := d.State.Need(r.PathValue("need"))
	if _, known := d.State.Lot(lot); err != nil || !ok || !known {
		s.Fail(w, r, site.Fault{Status: http.StatusNotFound, Say: "form.no_such_lot_or_print", Hint: "form.no_such_print_advice"})
		return fit.Request{}, forms.Asked{}, false
	}
	a := forms.Read(d.Say, r.URL.Query(), fitSheet(d))
	return fit.Request{Lot: lot, Need: need, Printer: a.Words["printer"], Nozzle: a.Number("nozzle_m"),
		Temperature: a.Number("temperature_k"), Strength: a.Number("strength"), Now: d.Now}, a, true
}

func askFit(s *site.Site, st *shop.State, req fit.Request, a forms.Asked) *waiting.Job {
	key := fmt.Sprintf("%d|%s|%s|%s", st.Newest().ID, req.Lot, req.Need.Name, a.Key())
	return s.Slow.Ask("fitness", key, func() (any, error) { return fit.Judge(st, req) })
}

// ShowFit is the page of whether a lot is fit for a print.
func ShowFit(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	req, a, ok := fitAsked(s, w, r, d)
	if !ok {
		return
	}
	lot, need := fact.Name("lot", string(req.Lot)), fact.Name("need", req.Need.Name)
	back := site.View{Title: d.Say.Line("page.fit_title", lot.As("lot"), need.As("need")), Place: "plan", Crumb: &address.Link{To: address.Plan(req.Need.Name), Say: d.Say.Line("page.plan_for", need.As("need"))}}
	found, ok := site.AwaitAsked[fit.Fitness](s, w, r, a, func() *waiting.Job { return askFit(s, d.State, req, a) }, d.Say.Line("page.fit_waiting", lot.As("lot"), need.As("need")), back)
	if !ok {
		return
	}
	v := site.AnswerView{Act: fitAct(d, found, req), More: []address.Link{{To: "/dry/" + address.Segment(string(req.Lot)), Say: d.Say.Line("go.dry")}, {To: address.Plan(req.Need.Name), Say: d.Say.Line("go.plan")}}}
	if found.Refused == nil && !found.Mixed {
		for _, code := range []string{"room.time", "room.temperature", "room.screw", "room.factor", "room.minute", "room.note"} {
			v.Room = append(v.Room, d.Say.Line(code))
		}
	}
	s.ShowAnswer(w, r, d, v, found.Document, fitSheet(d), a, back)
}

// DownloadFit sends the numbers of a fitness' chart.
func DownloadFit(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	req, a, ok := fitAsked(s, w, r, d)
	if !ok || s.Unreadable(w, r, a) {
		return
	}
	s.SendJob(w, r, askFit(s, d.State, req, a), r.PathValue("chart"), func(v any) []answer.Chart { return d.Say.Document(v.(fit.Fitness).Document).Charts })
}

// fitAct is where the deciding question is worked on.
func fitAct(d *desk.Desk, f fit.Fitness, req fit.Request) address.Link {
	if f.Refused == nil && !f.Mixed && f.Verdict != answer.Yes {
		for _, x := range f.Items {
			if to := address.OfStep(d.Say, change(x)); x.Key == f.Decides && to != nil {
				return *to
			}
		}
	}
	if f.Refused != nil || f.Mixed {
		return address.Link{To: address.Lot(req.Lot), Say: d.Say.Line("go.lot", fact.Name("lot", string(req.Lot)))}
	}
	return address.Link{To: "/record/print?lot=" + string(req.Lot) + "&need=" + address.Query(req.Need.Name), Say: d.Say.Line("go.print")}
}

// change is what would change an answer; empty where nothing need.
func change(x fit.Item) fact.Saying {
	if x.Change == nil {
		return fact.Saying{}
	}
	return x.Change.Do
}
