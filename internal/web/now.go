package web

import (
	"net/http"
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
	if len(d.state.History) == 0 {
		s.render(w, r, http.StatusOK, "welcome", view{Title: "Welcome", Bare: true})
		return
	}
	doc := viewDocument(d.say, next.Of(d.state))
	v := nowView{Answer: doc.Answer, Act: link{"/plan", d.say.Line("go.say_need")}}
	for i, a := range doc.Steps {
		if i == 0 {
			v.Answer, v.Lead, v.Act = a.Say, a.Why, *a.To
		} else if len(v.Also) < mostAdvice {
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
		if n := d.state.Needs[i]; !n.Done {
			v.Needs = append(v.Needs, d.needRow(n))
		}
	}
	for i := len(d.state.Records) - 1; i >= 0 && len(v.Log) < mostRecent; i-- {
		v.Log = append(v.Log, d.logRow(d.state.Records[i]))
	}
	s.render(w, r, http.StatusOK, "now", view{Title: "Now", Place: "now", Body: v})
}

func ended(sentence string) string {
	if sentence == "" || strings.HasSuffix(sentence, ".") || strings.HasSuffix(sentence, "?") {
		return sentence
	}
	return sentence + "."
}
