package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"hopperful/fact"
	"hopperful/figure"
	"hopperful/internal/exchange"
	"hopperful/internal/say"
	"hopperful/plan/reckon"
	"hopperful/quantity"
	"hopperful/shop"
)

// topicsView is the list of what can be reckoned by itself.
type topicsView struct {
	Topics []topicRow
}

// topicRow is one topic in the list.
type topicRow struct{ To, Title, Question string }

func (s *server) showTopics(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	q := ""
	if m := d.query("material"); m != "" {
		q = "?material=" + queryEscape(m)
	}
	var v topicsView
	for _, t := range reckon.Topics() {
		to := topicPath(t.Key)
		for _, in := range t.Inputs {
			if in.Key == "material" {
				to += q
			}
		}
		v.Topics = append(v.Topics, topicRow{to, d.say.Word(t.Title()), d.say.Word(t.Question())})
	}
	s.render(w, r, http.StatusOK, "topics", view{Title: "form.reckon", Place: "materials", Crumb: placeLink("materials"), Body: v})
}

func topicPath(key string) string { return "/reckon/" + pathSegment(key) }

// topicView is the calculator of one topic.
type topicView struct {
	Title    string
	Question string
	Key      string
	Answer   string
	Notes    []string
	Say      string // why there is no answer
	Numbers  []figView
	Patches  []patchView
	Lead     []patchView // those the answer is about
	First    *chartView
	Second   *chartView // the first picture where colours take its place
	Others   []chartView
	Ask      formView
	JSON     string // addresses of the answer for programs
	CSV      string
}

// topicSheet asks for a topic's inputs. What stays empty is taken at its default,
// a property of the material at the material's value.
func topicSheet(d *desk, t reckon.Topic) sheet {
	var fields, own, lots []field
	for _, in := range t.Inputs {
		f := field{Path: in.Key, Label: capitalised(d.say.Word(in.Name)), As: asAmount, Kind: in.Kind}
		switch {
		case in.Form != "":
			f = formField(d, f, in)
		case in.IsWord() && in.Choices != nil:
			f.As, f.First = asSelect, in.Word
			for _, c := range in.Choices {
				f.Choices = append(f.Choices, option{c, d.say.Word(reckon.Choice(c))})
			}
		case in.IsWord():
			f.As, f.First, f.Suggest = asText, in.Word, d.materials().Names()
		default:
			f.Unit = unitOf(in)
			f.Help = d.say.Line("form.empty_takes_it_may_be", fact.Set("default", in.Kind, in.Default), fact.Set("low", in.Kind, in.Low), fact.Set("high", in.Kind, in.High))
			f.Dial = dialOf(f, in)
			f.Hint = d.say.Typed(f.Kind, in.Default, f.Unit)
		}
		switch {
		case in.Property != "":
			own = append(own, f)
		case in.Form == reckon.LotList:
			lots = append(lots, f)
		default:
			fields = append(fields, f)
		}
	}
	sh := sheet{Submit: "form.reckon", Groups: []group{{Fields: fields}}}
	if len(lots) > 0 {
		sh.Groups = append(sh.Groups, group{Title: "form.lots_of_the_shop", Folded: true, Fields: lots})
	}
	if len(own) > 0 {
		sh.Groups = append(sh.Groups, group{Title: "form.values_of_the_material", Folded: true, Fields: own})
	}
	return sh
}

// formField asks for what is neither number nor word.
func formField(d *desk, f field, in reckon.Input) field {
	f.Help = d.say.Line("form.empty_takes", fact.Name("word", in.Word))
	if in.Optional != "" {
		f.Help = d.say.Line("form.empty", fact.Name("optional", d.say.Word(in.Optional)))
	}
	f.Hint = in.Word
	switch in.Form {
	case reckon.Colours:
		f.As = asShares
		f.Help = d.say.Line("form.a_code_and_its_share", fact.Name("word", in.Word))
	case reckon.Code:
		f.As = asCode
	case reckon.LotList:
		f.As, f.Choices = asMany, d.lotOptions("", shop.Scrap, shop.Regrind, shop.Blend, shop.Virgin)[1:]
		f.Help = d.say.Line("form.their_masses_are_the_shares")
		if len(f.Choices) == 0 {
			f.Help = d.say.Line("form.the_stock_is_empty")
		}
	}
	return f
}

// unitOf is the unit an input is asked in: the one its default is shown in, where
// that is one unit.
func unitOf(in reckon.Input) string {
	_, unit := splitUnit(in.Kind.Plain(in.Default))
	if _, err := in.Kind.In(in.Default, unit); unit == "" || err != nil {
		return in.Kind.Default()
	}
	return unit
}

// dial are the ends a number may be moved between with a finger, in the field's
// unit.
type dial struct{ Low, High float64 }

func dialOf(f field, in reckon.Input) *dial {
	low, err := in.Kind.In(in.Low, f.Unit)
	high, worse := in.Kind.In(in.High, f.Unit)
	if err != nil || worse != nil || !(high > low) {
		return nil
	}
	return &dial{low, high}
}

// topicAsked reads the address /reckon/TOPIC?size=2+mm.
func (s *server) topicAsked(w http.ResponseWriter, r *http.Request, d *desk) (reckon.Topic, asked, bool) {
	t, err := reckon.TopicOf(r.PathValue("topic"))
	if err != nil {
		s.failWith(w, r, err)
		return t, asked{}, false
	}
	if m := d.query("material"); m != "" {
		if own, err := t.For(d.materials(), m); err == nil {
			t = own
		}
	}
	t = t.In(d.state)
	return t, readQuery(d.say, r.URL.Query(), topicSheet(d, t)), true
}

func (s *server) reckon(d *desk, t reckon.Topic, a asked) (reckon.Reckoning, error) {
	given := reckon.Given{Numbers: a.numbers, Words: a.words, Colours: a.colours, Lots: map[string][]shop.LotID{}, Shop: d.state}
	for path, some := range a.many {
		for _, id := range some {
			given.Lots[path] = append(given.Lots[path], shop.LotID(id))
		}
	}
	return reckon.Answer(d.materials(), t.Key, given)
}

func (s *server) showTopic(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	t, a, ok := s.topicAsked(w, r, d)
	if !ok || wantsJSON(r) && s.unreadable(w, r, a) {
		return
	}
	v, status := topicView{Title: d.say.Word(t.Title()), Question: d.say.Word(t.Question()), Key: t.Key}, http.StatusOK
	var found reckon.Reckoning
	var told say.Document
	if len(a.in.Wrong) == 0 {
		var err error
		if found, err = s.reckon(d, t, a); err != nil {
			if wantsJSON(r) || !a.refused(err) {
				s.failWith(w, r, err)
				return
			}
			v.Say, _ = saidIn(d.say, err)
		} else {
			told = d.say.Document(found.Document)
		}
	}
	if wantsJSON(r) {
		writeJSON(w, http.StatusOK, told)
		return
	}
	if len(a.in.Wrong) > 0 {
		v.Say, status = orSay(v.Say, unread(a)), http.StatusUnprocessableEntity
	}
	v.Answer = told.Answer
	for _, n := range told.Spoilers {
		v.Notes = append(v.Notes, n.Say)
	}
	v.Numbers = viewWorded(d.say, told.Figures)
	v.Patches = viewSwatches(d.say, found.Swatches)
	for _, p := range v.Patches {
		if slices.Contains([]string{"melted", "streaks", "wanted"}, p.Key) {
			v.Lead = append(v.Lead, p)
		}
	}
	v.First, v.Others = drawn(r, viewCharts(d.say, found.Charts))
	if len(v.Lead) > 0 { // what follows a finger is the colours; the picture stands below
		v.Second, v.First = v.First, nil
	}
	v.CSV = fileOf(r, "figures")
	v.JSON = strings.Replace(v.CSV, "figures.csv", "reckoning.json", 1)
	v.Ask = askForm(r, topicSheet(d, t), a)
	s.render(w, r, status, "topic", view{Title: v.Title, Place: "materials", Crumb: &link{"/reckon", "form.reckon"}, Body: v})
}

// unread says which answer cannot be read, and why.
func unread(a asked) string {
	if len(a.in.Wrong) == 1 {
		for _, w := range a.in.Wrong {
			return w.Say
		}
	}
	return "form.some_of_the_answers_cannot"
}

// downloadTopic sends the answer as JSON, its figures or a chart's numbers as
// CSV.
func (s *server) downloadTopic(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	t, a, ok := s.topicAsked(w, r, d)
	if !ok || s.unreadable(w, r, a) {
		return
	}
	found, err := s.reckon(d, t, a)
	name := r.PathValue("chart")
	key, isCSV := strings.CutSuffix(name, ".csv")
	switch {
	case err != nil:
		s.failWith(w, r, err)
	case name == "reckoning.json":
		writeJSON(w, http.StatusOK, d.say.Document(found.Document))
	case name == "figures.csv":
		h := w.Header()
		h.Set("Content-Type", "text/csv; charset=utf-8")
		h.Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", t.Key+".csv"))
		writeFigures(exchange.NewCells(w), d.say, found)
	case isCSV:
		s.sendChart(w, r, d.say.Document(found.Document).Charts, key)
	default:
		s.showMissing(w, r)
	}
}

// writeFigures writes inputs and answers a line each, in SI, with the decimal
// point.
func writeFigures(out *exchange.Cells, p *say.Printer, found reckon.Reckoning) {
	n := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
	out.Write([]string{"key", "name", "value", "low", "high", "unit", "comes"})
	for _, list := range [][]figure.Figure{found.Inputs, found.Figures} {
		for _, f := range p.Figures(list) {
			out.Write([]string{f.Key, f.Name, n(f.Value), n(f.Low), n(f.High), f.Unit(), p.Origin(f)})
		}
	}
	out.Flush() // an error here means the reader has gone
}

// patchView is a colour as a page shows it.
type patchView struct {
	Key, Name, Word, RGB string
	Exact                bool
	Of                   string // its share of the whole, "" for none
	Numbers              string // L*, a*, b*
}

func viewSwatches(p *say.Printer, list []reckon.Swatch) []patchView {
	var all []patchView
	for _, s := range list {
		v := patchView{Key: s.Key, Name: p.Say(s.Name), Word: p.Line(s.Shade()), RGB: s.RGB, Exact: s.Exact, Numbers: "L*, a*, b*: " + p.Say(s.Numbers())}
		if s.Share > 0 {
			v.Of = p.Number(quantity.Share.Rough(s.Share))
		}
		all = append(all, v)
	}
	return all
}

// capitalised begins a text with a capital letter.
func capitalised(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return text
	}
	return string(unicode.ToUpper(first)) + text[size:]
}
