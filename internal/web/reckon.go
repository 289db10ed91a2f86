package web

import (
	"cmp"
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
	"hopperful/internal/web/address"
	"hopperful/internal/web/charts"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
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
	d := s.Desk(r)
	q := ""
	if m := d.Query("material"); m != "" {
		q = "?material=" + address.Query(m)
	}
	var v topicsView
	for _, t := range reckon.Topics() {
		to := address.Topic(t.Key)
		for _, in := range t.Inputs {
			if in.Key == "material" {
				to += q
			}
		}
		v.Topics = append(v.Topics, topicRow{to, d.Say.Word(t.Title()), d.Say.Word(t.Question())})
	}
	s.Render(w, r, http.StatusOK, "topics", site.View{Title: "form.reckon", Place: "materials", Crumb: site.PlaceLink("materials"), Body: v})
}

// topicView is the calculator of one topic.
type topicView struct {
	Title    string
	Question string
	Key      string
	Answer   string
	Notes    []string
	Say      string // why there is no answer
	Numbers  []figures.View
	Patches  []patchView
	Lead     []patchView // those the answer is about
	First    *charts.View
	Second   *charts.View // the first picture where colours take its place
	Others   []charts.View
	Ask      forms.View
	JSON     string // addresses of the answer for programs
	CSV      string
}

// topicSheet asks for a topic's inputs. What stays empty is taken at its default,
// a property of the material at the material's value.
func topicSheet(d *desk.Desk, t reckon.Topic) forms.Sheet {
	var fields, own, lots []forms.Field
	for _, in := range t.Inputs {
		f := forms.Field{Path: in.Key, Label: capitalised(d.Say.Word(in.Name)), As: forms.AsAmount, Kind: in.Kind}
		switch {
		case in.Form != "":
			f = formField(d, f, in)
		case in.IsWord() && in.Choices != nil:
			f.As, f.First = forms.AsSelect, in.Word
			for _, c := range in.Choices {
				f.Choices = append(f.Choices, forms.Option{Value: c, Say: d.Say.Word(reckon.Choice(c))})
			}
		case in.IsWord():
			f.As, f.First, f.Suggest = forms.AsText, in.Word, d.Materials().Names()
		default:
			f.Unit = unitOf(in)
			f.Help = d.Say.Line("form.default_and_bounds", fact.Set("default", in.Kind, in.Default), fact.Set("low", in.Kind, in.Low), fact.Set("high", in.Kind, in.High))
			f.Dial = dialOf(f, in)
			f.Hint = d.Say.Typed(f.Kind, in.Default, f.Unit)
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
	sh := forms.Sheet{Submit: "form.reckon", Groups: []forms.Group{{Fields: fields}}}
	if len(lots) > 0 {
		sh.Groups = append(sh.Groups, forms.Group{Title: "form.lots_of_the_shop", Folded: true, Fields: lots})
	}
	if len(own) > 0 {
		sh.Groups = append(sh.Groups, forms.Group{Title: "form.values_of_the_material", Folded: true, Fields: own})
	}
	return sh
}

// formField asks for what is neither number nor word.
func formField(d *desk.Desk, f forms.Field, in reckon.Input) forms.Field {
	f.Help = d.Say.Line("form.empty_takes", fact.Name("word", in.Word))
	if in.Optional != "" {
		f.Help = d.Say.Line("form.empty", fact.Name("optional", d.Say.Word(in.Optional)))
	}
	f.Hint = in.Word
	switch in.Form {
	case reckon.Colours:
		f.As = forms.AsShares
		f.Help = d.Say.Line("form.colour_shares_help", fact.Name("word", in.Word))
	case reckon.Code:
		f.As = forms.AsCode
	case reckon.LotList:
		f.As, f.Choices = forms.AsMany, d.LotOptions("", shop.Scrap, shop.Regrind, shop.Blend, shop.Virgin)[1:]
		f.Help = d.Say.Line("form.their_masses_are_the_shares")
		if len(f.Choices) == 0 {
			f.Help = d.Say.Line("form.the_stock_is_empty")
		}
	}
	return f
}

// unitOf is the unit an input is asked in: the one its default is shown in, where
// that is one unit.
func unitOf(in reckon.Input) string {
	_, unit := figures.SplitUnit(in.Kind.Plain(in.Default))
	if _, err := in.Kind.In(in.Default, unit); unit == "" || err != nil {
		return in.Kind.Default()
	}
	return unit
}

func dialOf(f forms.Field, in reckon.Input) *forms.Dial {
	low, err := in.Kind.In(in.Low, f.Unit)
	high, worse := in.Kind.In(in.High, f.Unit)
	if err != nil || worse != nil || !(high > low) {
		return nil
	}
	return &forms.Dial{Low: low, High: high}
}

// topicAsked reads the address /reckon/TOPIC?size=2+mm.
func (s *server) topicAsked(w http.ResponseWriter, r *http.Request, d *desk.Desk) (reckon.Topic, forms.Asked, bool) {
	t, err := reckon.TopicOf(r.PathValue("topic"))
	if err != nil {
		s.FailWith(w, r, err)
		return t, forms.Asked{}, false
	}
	if m := d.Query("material"); m != "" {
		if own, err := t.For(d.Materials(), m); err == nil {
			t = own
		}
	}
	t = t.In(d.State)
	return t, forms.Read(d.Say, r.URL.Query(), topicSheet(d, t)), true
}

func (s *server) reckon(d *desk.Desk, t reckon.Topic, a forms.Asked) (reckon.Reckoning, error) {
	given := reckon.Given{Numbers: a.Numbers, Words: a.Words, Colours: a.Colours, Lots: map[string][]shop.LotID{}, Shop: d.State}
	for path, some := range a.Many {
		for _, id := range some {
			given.Lots[path] = append(given.Lots[path], shop.LotID(id))
		}
	}
	return reckon.Answer(d.Materials(), t.Key, given)
}

func (s *server) showTopic(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	t, a, ok := s.topicAsked(w, r, d)
	if !ok || desk.WantsJSON(r) && s.Unreadable(w, r, a) {
		return
	}
	v, status := topicView{Title: d.Say.Word(t.Title()), Question: d.Say.Word(t.Question()), Key: t.Key}, http.StatusOK
	var found reckon.Reckoning
	var told say.Document
	if len(a.In.Wrong) == 0 {
		var err error
		if found, err = s.reckon(d, t, a); err != nil {
			if desk.WantsJSON(r) || !a.Refused(err) {
				s.FailWith(w, r, err)
				return
			}
			v.Say, _ = forms.Said(d.Say, err)
		} else {
			told = d.Say.Document(found.Document)
		}
	}
	if desk.WantsJSON(r) {
		site.WriteJSON(w, http.StatusOK, told)
		return
	}
	if len(a.In.Wrong) > 0 {
		v.Say, status = cmp.Or(v.Say, site.Unread(a)), http.StatusUnprocessableEntity
	}
	v.Answer = told.Answer
	for _, n := range told.Spoilers {
		v.Notes = append(v.Notes, n.Say)
	}
	v.Numbers = figures.All(d.Say, told.Figures)
	v.Patches = viewSwatches(d.Say, found.Swatches)
	for _, p := range v.Patches {
		if slices.Contains([]string{"melted", "streaks", "wanted"}, p.Key) {
			v.Lead = append(v.Lead, p)
		}
	}
	v.First, v.Others = charts.Filed(r, charts.All(d.Say, found.Charts))
	if len(v.Lead) > 0 { // what follows a finger is the colours; the picture stands below
		v.Second, v.First = v.First, nil
	}
	v.CSV = charts.FileOf(r, "figures")
	v.JSON = strings.Replace(v.CSV, "figures.csv", "reckoning.json", 1)
	v.Ask = forms.AskedForm(r, topicSheet(d, t), a)
	s.Render(w, r, status, "topic", site.View{Title: v.Title, Place: "materials", Crumb: &address.Link{To: "/reckon", Say: "form.reckon"}, Body: v})
}

// downloadTopic sends the answer as JSON, its figures or a chart's numbers as
// CSV.
func (s *server) downloadTopic(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	t, a, ok := s.topicAsked(w, r, d)
	if !ok || s.Unreadable(w, r, a) {
		return
	}
	found, err := s.reckon(d, t, a)
	name := r.PathValue("chart")
	key, isCSV := strings.CutSuffix(name, ".csv")
	switch {
	case err != nil:
		s.FailWith(w, r, err)
	case name == "reckoning.json":
		site.WriteJSON(w, http.StatusOK, d.Say.Document(found.Document))
	case name == "figures.csv":
		h := w.Header()
		h.Set("Content-Type", "text/csv; charset=utf-8")
		h.Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", t.Key+".csv"))
		writeFigures(exchange.NewCells(w), d.Say, found)
	case isCSV:
		s.SendChart(w, r, d.Say.Document(found.Document).Charts, key)
	default:
		s.ShowMissing(w, r)
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
