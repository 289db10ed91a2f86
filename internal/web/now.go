package web

import (
	"net/http"
	"slices"
	"strings"

	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/lots"
	"hopperful/internal/web/prints"
	"hopperful/internal/web/site"
	"hopperful/plan/next"
)

// nowView is the first page: what to do next.
type nowView struct {
	Answer string
	Lead   string
	Act    address.Link
	Also   []figures.Step
	Shelf  []lots.LotCard
	Needs  []prints.NeedRow
	Log    []desk.RecordRow
	Fresh  bool // an empty shop, first visit
}

// most of each kind the first page shows.
const (
	mostAdvice  = 3
	mostOnShelf = 6
	mostRecent  = 5
)

func (s *server) showNow(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	if d.State.History.Len() == 0 {
		s.Render(w, r, http.StatusOK, "welcome", site.View{Title: "form.welcome", Bare: true})
		return
	}
	doc := figures.Laid(d.Say, s.waits.get(d.State, next.Of))
	v := nowView{Answer: doc.Answer, Act: address.Link{To: "/plan", Say: d.Say.Line("go.say_need")}}
	for i, a := range doc.Steps {
		if i == 0 {
			v.Answer, v.Lead, v.Act = a.Say, a.Why, *a.To
		} else if n := needAt(a.To.To); len(v.Also) < mostAdvice && (n == "" || !v.names(n)) {
			v.Also = append(v.Also, a)
		}
	}
	for _, t := range lots.ShelfTitles {
		for _, l := range d.State.StockFrom(0, mostOnShelf-len(v.Shelf), t.Class) {
			v.Shelf = append(v.Shelf, lots.Card(d, l))
		}
	}
	for i := len(d.State.Needs) - 1; i >= 0; i-- {
		if n := d.State.Needs[i]; !n.Done && !v.names(address.Segment(n.Name)) {
			v.Needs = append(v.Needs, prints.NeedRowOf(d, n))
		}
	}
	for i := d.State.Records.Len() - 1; i >= 0 && len(v.Log) < mostRecent; i-- {
		v.Log = append(v.Log, desk.LogRow(d, d.State.Records.At(i)))
	}
	s.Render(w, r, http.StatusOK, "now", site.View{Title: "form.now", Place: "now", Body: v})
}

// needAt is the need, as it stands in an address, whose page that is; "" for any
// other page.
func needAt(to string) string {
	for _, place := range []string{"/plan/", "/blend/"} {
		if name, ok := strings.CutPrefix(to, place); ok {
			name, _, _ = strings.Cut(name, "?")
			return name
		}
	}
	return ""
}

// names reports whether what to do already leads to that need: it is then not
// listed once more among those that wait.
func (v nowView) names(need string) bool {
	return needAt(v.Act.To) == need || slices.ContainsFunc(v.Also, func(a figures.Step) bool { return needAt(a.To.To) == need })
}
