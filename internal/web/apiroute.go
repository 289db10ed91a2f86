package web

import (
	"net/http"
	"reflect"

	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/internal/say"
	"hopperful/internal/tokens"
	"hopperful/internal/web/lots"
	"hopperful/internal/web/mills"
	"hopperful/internal/web/prints"
	"hopperful/internal/web/site"
	"hopperful/shop"
)

// The addresses for programs stand in one table: the routes are made of it, and the
// description in OpenAPI too, so that the two cannot differ. What the pages answer is
// answered by the pages' own handlers.

// way is one thing that can be asked.
type way struct {
	method, path string // below apiRoot; {…} as in net/http
	id, summary  string
	scope        tokens.Scope
	answer       reflect.Type // of a good answer
	status       int          // of it; 0: 200
	sent         reflect.Type // nil: nothing
	once         bool         // with a key, however often it is sent
	query        []argument
	handle       func(*server) http.HandlerFunc
}

// argument is one thing an address may be asked with.
type argument struct {
	name, what string
	whole      bool // a whole number from 0
	many       bool // may be given several times
}

// document is the answer of a room.
var document = reflect.TypeFor[say.Document]()

// asPage answers with the handler of a page.
func asPage[S *server | *site.Site](h func(S, http.ResponseWriter, *http.Request)) func(*server) http.HandlerFunc {
	page := own(h)
	return func(s *server) http.HandlerFunc {
		return func(w http.ResponseWriter, r *http.Request) {
			r.Header.Set("Accept", "application/json")
			page(s)(w, r)
		}
	}
}

// own answers with a handler of this package or of a room, which only programs have.
func own[S *server | *site.Site](h func(S, http.ResponseWriter, *http.Request)) func(*server) http.HandlerFunc {
	return func(s *server) http.HandlerFunc {
		switch h := any(h).(type) {
		case func(*site.Site, http.ResponseWriter, *http.Request):
			return at(s.Site, h)
		case func(*server, http.ResponseWriter, *http.Request):
			return func(w http.ResponseWriter, r *http.Request) { h(s, w, r) }
		}
		return nil
	}
}

// Arguments that several have.
var (
	ofMill = argument{name: "mill", what: "name of a mill; empty: the first in use"}
	prices = []argument{{name: "granulate", what: "price of a kilogram of bought granulate"}, {name: "filament", what: "price of a kilogram of filament"},
		{name: "hour", what: "what an hour of work is worth"}, {name: "grid", what: "greenhouse gas of a kWh [kg]"}}
)

// ways are all of them, in the order material flows.
func ways() []way {
	get := func(path, id, summary string, answer reflect.Type, h func(*server) http.HandlerFunc, query ...argument) way {
		return way{method: http.MethodGet, path: path, id: id, summary: summary, scope: tokens.Read, answer: answer, handle: h, query: query}
	}
	return []way{
		get("openapi.json", "description", "This description", nil, own((*server).apiDescribed)),
		get("next", "next", "What to do next", document, own((*server).apiNext)),
		get("now", "now", "Which campaigns go on, and where they stand", document, own((*server).apiNow)),
		get("needs", "needs", "The prints that are wanted", reflect.TypeFor[needsAnswer](), own((*server).apiNeeds)),
		get("stock", "stock", "The lots on hand", reflect.TypeFor[lotsAnswer](), own((*server).apiStock), argument{name: "all", what: "yes: lots that are used up too"}),
		get("lots/{lot}", "lot", "One lot, and the records about it", reflect.TypeFor[lotKept](), own((*server).apiLot)),
		get("lots/{lot}/family", "family", "Where a lot came from and went", document, asPage(lots.ShowFamily)),
		get("lots/{lot}/books", "lotBooks", "Where the grams of a lot went", document, asPage((*server).showLotBooks)),
		get("plan/{need}", "plan", "How to grind what a print wants", document, asPage(prints.ShowPlan),
			ofMill, argument{name: "polymer", what: "of the print, where it does not say"}, argument{name: "colour", what: "only lots of it"},
			argument{name: "lot", what: "only this lot", many: true}, argument{name: "by", what: "when it has to be done: 18:00"}),
		get("campaigns/{campaign}", "campaign", "Where a campaign stands, its rest planned anew", document, asPage(mills.ShowRun)),
		get("dry/{lot}", "dry", "How to dry a lot", document, asPage(prints.ShowDrying),
			argument{name: "way", what: "oven, dehydrator, desiccant box or dry air; empty: what the shop has"}, argument{name: "temperature_k", what: "of the air, as 65 °C"},
			argument{name: "bed_m", what: "depth of the heap, as 20 mm"}, argument{name: "mass_kg", what: "to dry, as 500 g"},
			argument{name: "dew_point_k", what: "of a dry-air dryer, as -30 °C"}, argument{name: "humidity", what: "a desiccant keeps, as 10 %RH"}, argument{name: "start", what: "water in it now, as 0.2 %"}),
		get("blend/{need}", "blend", "Which lots to blend for a print", document, asPage(prints.ShowBlend),
			argument{name: "only", what: "only these lots, with commas between"}, argument{name: "without", what: "none of these"}),
		get("fit/{lot}/{need}", "fit", "Whether a lot is fit for a print", document, asPage(prints.ShowFit),
			argument{name: "printer", what: "its name, where there are several"}, argument{name: "nozzle_m", what: "another nozzle, as 1.2 mm"},
			argument{name: "temperature_k", what: "of the melt, as 240 °C"}, argument{name: "strength", what: "it must keep, as 80 %"}),
		get("mills/{mill}/upkeep", "upkeep", "When to look at a mill's parts, and what damage may have spoilt", document, asPage((*server).showUpkeep)),
		get("dose", "dose", "What ears have had on a day, and where the dust lies", document, asPage((*server).showDose), argument{name: "day", what: "as 2026-11-25; empty: today"}),
		get("books", "books", "Where the grams of a month went, and what a kilogram costs", document, asPage((*server).showBooks), append([]argument{{name: "month", what: "as 2026-11; empty: the latest"}}, prices...)...),
		get("records", "records", "Records as they were written, in the order of their numbers, at most 5000 at once", reflect.TypeFor[keptRecords](), own((*server).apiRecords),
			argument{name: "after", what: "only those with a higher number", whole: true}),
		get("sensors", "sensors", "What the sensors show, in SI units, and the runs they saw", nil, own(mills.APISensors)),
		{method: http.MethodPost, path: "sensors/aside", id: "setAside", summary: "Set a run aside that was seen: nobody wants it on record", scope: tokens.Record,
			sent: reflect.TypeFor[mills.AsideSent](), handle: own(mills.APIAside)},
		{method: http.MethodPost, path: "records", id: "append", summary: "Write records: all of them, or none", scope: tokens.Record, answer: reflect.TypeFor[keptRecords](), status: http.StatusCreated,
			sent: reflect.TypeFor[sentRecords](), once: true, handle: own((*server).apiAppend)},
	}
}

// apiRoutes are the addresses for programs.
func (s *server) apiRoutes(mux *http.ServeMux) {
	for _, x := range ways() {
		mux.HandleFunc(x.method+" "+site.APIRoot+x.path, s.withToken(x.scope, x.handle(s)))
	}
	mux.HandleFunc(site.APIRoot, s.withToken(tokens.Read, func(w http.ResponseWriter, r *http.Request) {
		s.RefuseProgram(w, r, http.StatusNotFound, string(shop.NotFound), fact.Say("api.nothing_here"), fact.Say("api.do_see_list", fact.Name("path", site.APIRoot+"openapi.json")))
	}))
}

// needsAnswer are the prints that are wanted.
type needsAnswer struct {
	Needs []shop.Need `json:"needs"`
}

// lotsAnswer are lots.
type lotsAnswer struct {
	Lots []exchange.Lot `json:"lots"`
}

// lotKept is one lot.
type lotKept struct {
	Lot     exchange.Lot    `json:"lot"`
	Records []exchange.Kept `json:"records"` // as they stand
}
