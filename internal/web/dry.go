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

// wayOptions name the ways to dry.
var wayOptions = map[shop.Way]string{shop.Oven: "an oven", shop.Dehydrator: "a food dehydrator", shop.DesiccantBox: "a box with desiccant", shop.DryAir: "a dryer with dry air"}

// dryAskSheet asks with what and how it is dried.
func dryAskSheet() sheet {
	ways := []option{{"", "what the shop has"}}
	for _, w := range fit.DryWays() {
		ways = append(ways, option{string(w), wayOptions[w]})
	}
	return sheet{Submit: "Reckon again", Groups: []group{{Fields: []field{
		{Path: "way", Label: "Dried in", As: asSelect, Choices: ways},
		amount("temperature_k", "Temperature", quantity.Temperature, "°C", "Empty takes what is usual for the plastic."),
		amount("bed_m", "Depth of the heap", quantity.Length, "mm", "Empty takes as deep as it may be."),
		amount("mass_kg", "Mass to dry", quantity.Mass, "g", "Empty takes the lot."),
		amount("dew_point_k", "Dew point of a dry-air dryer", quantity.Temperature, "°C", "Empty takes −30 °C."),
		amount("humidity", "Humidity a desiccant keeps", quantity.Humidity, "%RH", "Empty takes 10 %RH."),
		amount("start", "Water in it now", quantity.Share, "%", "Empty takes what its records and the room's air say."),
	}}}}
}

// dryAsked reads the address /dry/LOT?way=….
func (s *server) dryAsked(w http.ResponseWriter, r *http.Request, d *desk) (fit.DryRequest, asked, bool) {
	id, err := shop.ParseLot(r.PathValue("lot"))
	if _, ok := d.state.Lot(id); err != nil || !ok {
		s.fail(w, r, fault{http.StatusNotFound, "There is no lot " + r.PathValue("lot") + ".", "Labels look like R12; the stock page shows them all."})
		return fit.DryRequest{}, asked{}, false
	}
	a := readQuery(r.URL.Query(), dryAskSheet())
	return fit.DryRequest{Lot: id, Way: shop.Way(a.words["way"]), Temperature: a.number("temperature_k"), Bed: a.number("bed_m"), Mass: a.number("mass_kg"),
		DewPoint: a.number("dew_point_k"), Humidity: a.number("humidity"), Start: a.number("start"), Now: d.now}, a, true
}

func (s *server) askDrying(st *shop.State, req fit.DryRequest, a asked) *job {
	key := fmt.Sprintf("%d|%s|%s", st.Newest().ID, req.Lot, a.key())
	return s.slow.ask("drying", key, func() (any, error) { return fit.Dry(st, req) })
}

func (s *server) showDrying(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	req, a, ok := s.dryAsked(w, r, d)
	if !ok {
		return
	}
	lot := fact.Name("lot", string(req.Lot))
	back := view{Title: d.say.Line("page.dry_title", lot.As("lot")), Place: "stock", Crumb: &link{lotPath(req.Lot), string(req.Lot)}}
	found, ok := awaitAsked[fit.Drying](s, w, r, a, func() *job { return s.askDrying(d.state, req, a) }, d.say.Line("page.dry_waiting", lot.As("lot")), back)
	if !ok {
		return
	}
	v := answerView{Act: link{"/record/dry?lot=" + string(req.Lot) + "&way=" + queryEscape(string(found.Way)), d.say.Line("go.dried")}, More: []link{{"/fit?lot=" + string(req.Lot), d.say.Line("go.fit")}}}
	s.showAnswer(w, r, d, v, found.Document, dryAskSheet(), a, back)
}

func (s *server) downloadDrying(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	req, a, ok := s.dryAsked(w, r, d)
	if !ok || s.unreadable(w, r, a) {
		return
	}
	s.sendJob(w, r, s.askDrying(d.state, req, a), r.PathValue("chart"), func(v any) []answer.Chart { return d.say.Document(v.(fit.Drying).Document).Charts })
}
