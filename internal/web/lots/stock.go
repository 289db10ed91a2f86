package lots

import (
	"cmp"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
	"hopperful/process/colour"
	"hopperful/quantity"
	"hopperful/shop"
)

// stockView is the stock page.
type stockView struct {
	Answer  string
	Shelves []shelf
	All     bool // lots with nothing left too
	InMill  []forms.Option
	Asked   string // words looked for
	Search  bool   // there is more than fits a screen
}

// shelf is a class of lots with its sum, or a part of many.
type shelf struct {
	Title, Sum     string
	Lots           []LotCard
	Before, Beyond *address.Link // to the lots beside those drawn
	Ask            *address.Link // a question about all of them
}

// PerShelf is how many lots a shelf draws at once: each is a picture.
const PerShelf = 24

// ShelfTitles names the classes in the order material flows.
var ShelfTitles = []struct {
	Class shop.Class
	title string
}{{shop.Scrap, "form.scrap"}, {shop.Regrind, "form.regrind"}, {shop.Virgin, "form.virgin"}, {shop.Blend, "form.blends"}, {shop.Print, "form.prints"}}

// usedUp is the shelf of lots with nothing left, in an address.
const usedUp = "used-up"

// ShowStock shows every shelf from its beginning, or at /stock?shelf=scrap&page=1
// one shelf further on.
func ShowStock(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	only := d.Query("shelf")
	page, err := strconv.Atoi(d.Query("page"))
	if err != nil || page < 0 || only == "" {
		page = 0
	}
	v := stockView{Answer: stockAnswer(d.Say, d.State), All: d.Query("empty") != "" || only == usedUp, Asked: strings.TrimSpace(d.Query("q")), Search: len(d.State.Order) > mostUnsought}
	add := func(title, name string, kept standing) {
		if v.Asked != "" {
			lots := slices.Clone(kept.some(0, kept.n))
			kept = listed(slices.DeleteFunc(lots, func(l *shop.Lot) bool { return !found(v.Asked, lotWords(d.Say, l)...) }))
		}
		if kept.n > 0 && (only == "" || only == name) {
			v.Shelves = append(v.Shelves, shelfOf(d, title, name, kept, page))
		}
	}
	for _, t := range ShelfTitles {
		n, mass := d.State.Stocked(t.Class)
		add(t.title, string(t.Class), standing{n, mass, func(skip, n int) []*shop.Lot { return d.State.StockFrom(skip, n, t.Class) }})
	}
	if v.All {
		var gone []*shop.Lot
		for _, id := range d.State.Order {
			if l := d.State.Lots.At(id); l.Mass <= 0 {
				gone = append(gone, l)
			}
		}
		add("form.used_up", usedUp, listed(gone))
	}
	for _, m := range d.State.ActiveMills() {
		if m.Held > 0 {
			v.InMill = append(v.InMill, forms.Option{Value: m.Name, Say: d.Say.Weighed(m.Held)})
		}
	}
	whole := site.View{Title: "form.stock", Place: "stock", Body: v}
	if only != "" {
		if len(v.Shelves) == 0 && v.Asked == "" {
			http.Redirect(w, r, "/stock", http.StatusSeeOther)
			return
		}
		whole.Crumb = &address.Link{To: "/stock", Say: "form.stock"}
	}
	s.Render(w, r, http.StatusOK, "stock", whole)
}

// mostUnsought is how many lots or records a list has before it is worth searching.
const mostUnsought = 8

// found reports whether each of the words asked for stands somewhere in the texts,
// in any case.
func found(asked string, texts ...string) bool {
	all := strings.ToLower(strings.Join(texts, "\n"))
	for w := range strings.FieldsSeq(strings.ToLower(asked)) {
		if !strings.Contains(all, w) {
			return false
		}
	}
	return true
}

// lotWords are the words a lot is found by.
func lotWords(p *say.Printer, l *shop.Lot) []string {
	return []string{string(l.ID), l.Name, cmp.Or(l.Polymer, p.Line("form.not_known")), l.Colour, string(l.Class), l.Metal, care(p, l)}
}

// standing are lots of which only those are looked at that are drawn.
type standing struct {
	n    int
	mass float64 // kg
	some func(skip, n int) []*shop.Lot
}

func listed(lots []*shop.Lot) standing {
	return standing{len(lots), shop.MassOf(lots), func(skip, n int) []*shop.Lot { return lots[skip:min(skip+n, len(lots))] }}
}

// shelfOf draws a page of lots, and sums all of them.
func shelfOf(d *desk.Desk, title, name string, kept standing, page int) shelf {
	sh := shelf{Title: title}
	if kept.mass > 0 {
		sh.Sum = d.Say.Number(quantity.Mass.Bare(kept.mass))
	}
	at := func(page int) string {
		to := fmt.Sprintf("/stock?shelf=%s&page=%d", name, page)
		if q := strings.TrimSpace(d.Query("q")); q != "" {
			to += "&q=" + address.Query(q)
		}
		return to
	}
	page = min(page, (kept.n-1)/PerShelf)
	from, to := page*PerShelf, min((page+1)*PerShelf, kept.n)
	for _, l := range kept.some(from, PerShelf) {
		sh.Lots = append(sh.Lots, Card(d, l))
	}
	if name == string(shop.Scrap) {
		sh.Ask = askHeap(kept.some(0, kept.n))
	}
	if page > 0 {
		sh.Before = &address.Link{To: at(page - 1), Say: d.Say.Line("form.lots_before", fact.Count("n", from))}
	}
	if to < kept.n {
		sh.Beyond = &address.Link{To: at(page + 1), Say: d.Say.Line("form.more_lots", fact.Count("n", kept.n-to))}
	}
	return sh
}

// askHeap asks what several lots become when they are melted into one; none that
// may hold chlorine, and no more than a heap may.
func askHeap(lots []*shop.Lot) *address.Link {
	to, n, taken := address.Topic("scrap-colour"), 0, false
	for _, l := range lots {
		if l.Bar() != nil || l.Mass <= 0 || n == colour.MostPortions {
			continue
		}
		to += map[bool]string{true: "?", false: "&"}[n == 0] + "lot=" + address.Query(string(l.ID))
		n, taken = n+1, taken || l.RGB != ""
	}
	if n < 2 || !taken {
		return nil
	}
	return &address.Link{To: to, Say: "form.heap_colour_question"}
}

// stockAnswer is the stock in one sentence.
func stockAnswer(p *say.Printer, st *shop.State) string {
	_, scrap := st.Stocked(shop.Scrap)
	_, ready := st.Stocked(shop.Regrind, shop.Virgin, shop.Blend)
	switch {
	case scrap > 0 && ready > 0:
		return p.Line("form.scrap_and_granulate", fact.Read("scrap", quantity.Mass, scrap), fact.Read("ready", quantity.Mass, ready))
	case scrap > 0:
		return p.Line("form.scrap_waits", fact.Read("scrap", quantity.Mass, scrap))
	case ready > 0:
		return p.Line("form.granulate_ready", fact.Read("ready", quantity.Mass, ready))
	}
	return p.Line("form.nothing_is_in_stock_yet")
}
