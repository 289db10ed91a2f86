package web

import (
	"net/http"
	"slices"
	"strings"

	"hopperful/plan/next"
)

// nowView is the first page: what to do next.
type nowView struct {
	Answer string
	Lead   string
	Act    link
	Also   []stepView
	Shelf  []lotCard
	Needs  []needRow
	Log    []recordRow
	Fresh  bool // an empty shop, first visit
}

// most of each kind the first page shows.
const (
	mostAdvice  = 3
	mostOnShelf = 6
	mostRecent  = 5
)

func (s *server) showNow(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	if d.state.History.Len() == 0 {
		s.render(w, r, http.StatusOK, "welcome", view{Title: "form.welcome", Bare: true})
		return
	}
	doc := viewDocument(d.say, next.Of(d.state))
	v := nowView{Answer: doc.Answer, Act: link{"/plan", d.say.Line("go.say_need")}}
	for i, a := range doc.Steps {
		if i == 0 {
			v.Answer, v.Lead, v.Act = a.Say, a.Why, *a.To
		} else if n := needAt(a.To.To); len(v.Also) < mostAdvice && (n == "" || !v.names(n)) {
			v.Also = append(v.Also, a)
		}
	}
	for _, t := range shelfTitles {
		lots := d.state.Stock(t.class)
		for _, l := range lots[:min(mostOnShelf-len(v.Shelf), len(lots))] {
			v.Shelf = append(v.Shelf, d.card(l))
		}
	}
	for i := len(d.state.Needs) - 1; i >= 0; i-- {
		if n := d.state.Needs[i]; !n.Done && !v.names(pathSegment(n.Name)) {
			v.Needs = append(v.Needs, d.needRow(n))
		}
	}
	for i := d.state.Records.Len() - 1; i >= 0 && len(v.Log) < mostRecent; i-- {
		v.Log = append(v.Log, d.logRow(d.state.Records.At(i)))
	}
	s.render(w, r, http.StatusOK, "now", view{Title: "form.now", Place: "now", Body: v})
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
	return needAt(v.Act.To) == need || slices.ContainsFunc(v.Also, func(a stepView) bool { return needAt(a.To.To) == need })
}

func ended(sentence string) string {
	if sentence == "" || strings.HasSuffix(sentence, ".") || strings.HasSuffix(sentence, "?") {
		return sentence
	}
	return sentence + "."
}
