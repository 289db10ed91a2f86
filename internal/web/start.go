package web

import (
	"net/http"
	"net/url"

	"hopperful/shop"
)

// The first steps lead a newcomer from an empty shop to a first plan. Each is
// an ordinary sheet; "don't know" is a field left empty.

// stage is one of the first steps.
type stage struct {
	Key, Word string
	sheet     func(*desk) sheet
	done      func(*shop.State) bool
}

var stages = []stage{
	{"mill", "form.your_mill", millSheet, func(s *shop.State) bool { return len(s.Mills) > 0 }},
	{"scale", "form.your_scale", scaleSheet, func(s *shop.State) bool { return len(s.Scales) > 0 }},
	{"scrap", "form.your_scrap", takeInSheet, func(s *shop.State) bool { return len(s.Order) > 0 }},
	{"need", "form.your_print", nil, func(s *shop.State) bool { return len(s.Needs) > 0 }},
}

// stageView is a step in the row at the top.
type stageView struct {
	Word          string
	Past, Current bool
}

func stagesAt(key string) []stageView {
	var views []stageView
	past := true
	for _, st := range stages {
		current := st.Key == key
		if current {
			past = false
		}
		views = append(views, stageView{st.Word, past, current})
	}
	return views
}

// nextStage is the address of the first step not done, or of the page Now.
func nextStage(st *shop.State) string {
	for _, g := range stages {
		if !g.done(st) {
			return "/start/" + g.Key
		}
	}
	return "/"
}

// showStart goes to the first step that is left.
func (s *server) showStart(w http.ResponseWriter, r *http.Request) {
	http.Redirect(w, r, nextStage(s.store.State()), http.StatusSeeOther)
}

func (s *server) showStage(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	switch g, ok := stageAt(r); {
	case !ok:
		s.showMissing(w, r)
	case g.sheet == nil:
		s.drawNeeds(w, r, d, http.StatusOK, newInput(d.say, url.Values{}))
	default:
		s.drawStage(w, r, d, http.StatusOK, g, newInput(d.say, url.Values{}))
	}
}

func stageAt(r *http.Request) (stage, bool) {
	for _, g := range stages {
		if g.Key == r.PathValue("stage") {
			return g, true
		}
	}
	return stage{}, false
}

func (s *server) drawStage(w http.ResponseWriter, r *http.Request, d *desk, status int, g stage, in *input) {
	sh := startSheet(g, d)
	s.render(w, r, status, "sheet", view{Title: sh.Title, Bare: true,
		Body: sheetView{Form: form(sh, in, r.URL.Path, nil), Stages: stagesAt(g.Key)}})
}

// startSheet is a step's sheet, headed for a newcomer and without the questions
// when and who.
func startSheet(g stage, d *desk) sheet {
	sh := g.sheet(d)
	sh.Title, sh.Submit, sh.Timed = g.Word, d.say.Line("form.go_on"), false
	if g.Key == "scrap" {
		sh.Intro = d.say.Line("form.one_bin_of_it_is")
	}
	return sh
}

func (s *server) postStage(w http.ResponseWriter, r *http.Request) {
	g, ok := stageAt(r)
	if !ok {
		s.showMissing(w, r)
		return
	}
	if g.sheet == nil {
		s.postNeed(w, r)
		return
	}
	if !readForm(w, r) {
		s.fail(w, r, tooLarge)
		return
	}
	d := s.desk(r)
	in := newInput(d.say, r.PostForm)
	_, err := s.keep(r, d, startSheet(g, d), in, nil, 0)
	switch {
	case err != nil:
		s.failWith(w, r, err)
	case len(in.Wrong) > 0:
		s.drawStage(w, r, d, http.StatusUnprocessableEntity, g, in)
	default:
		http.Redirect(w, r, nextStage(s.store.State()), http.StatusSeeOther)
	}
}
