package web

import (
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"hopperful/answer"
	"hopperful/internal/exchange"
	"hopperful/internal/say"
	"hopperful/process/sieve"
	"hopperful/quantity"
	"hopperful/shop"
)

// stackView is the choice of another stack beside the sheet of a sieving.
type stackView struct {
	Lot    string
	Series []option
	Now    string // the series the sheet shows
	Holes  []option
	Form   string // of the holes
	Own    string
	Table  string // pasted
	Wrong  *wrong // with the table
	Notes  []string
	Open   bool // no sieve is named yet
	Live   liveChart
}

// holeForms are the forms of the openings of sieves.
var holeForms = []option{{string(shop.WovenWire), "form.woven_wire"}, {string(shop.RoundHoles), "form.plate_round_holes"}, {string(shop.SquareHoles), "form.plate_square_holes"}}

// viewStack shows which sieves the sheet asks for.
func (d *desk) viewStack(k *stack) *stackView {
	if k == nil {
		return nil
	}
	v := &stackView{Lot: d.query("lot"), Series: seriesOptions(d.say), Now: string(k.series), Holes: holeForms, Form: string(k.holes), Own: d.query("own"), Open: len(k.openings) == 0}
	v.Live = liveChart{d.say}
	return v
}

// postTable reads a pasted table or a file with a stack and shows it on the
// sheet, for a person to look at; nothing is written yet.
func (s *server) postTable(w http.ResponseWriter, r *http.Request) {
	if !s.readTable(w, r, "form.that_is_more_than_a_table", "form.keep_only_the_stack_in") {
		return
	}
	defer r.MultipartForm.RemoveAll()
	d := s.desk(r)
	name, body, size := d.say.Line("page.notebook_pasted_name"), io.Reader(strings.NewReader(r.FormValue("table"))), int64(len(r.FormValue("table")))
	if f, head, err := r.FormFile("file"); err == nil {
		defer f.Close()
		name, body, size = head.Filename, f, head.Size
	}
	read, err := exchange.ReadStack(name, body, size, exchange.Reading{})
	if err != nil {
		s.drawStack(w, r, d, url.Values{"lot": {r.FormValue("lot")}}, url.Values{}, func(v *stackView) {
			v.Table, v.Wrong = r.FormValue("table"), wrongTable(d.say, err)
		})
		return
	}
	q := stackQuery(stackBody(read))
	q.Set("lot", orSay(r.FormValue("lot"), read.Lot))
	s.drawStack(w, r, d, q, filledStack(d.say, read), func(v *stackView) { v.Notes = d.say.All(read.Notes) })
}

// mostTable bounds a request with a table: the file and a little around it.
const mostTable = exchange.MostBytes + 1<<20

// readTable takes a form with a file of a table; one that is too large is told so.
// The caller removes the form's files.
func (s *server) readTable(w http.ResponseWriter, r *http.Request, tooMuch, hint string) bool {
	r.Body = http.MaxBytesReader(w, r.Body, mostTable)
	if r.ParseMultipartForm(mostForm) != nil {
		s.fail(w, r, fault{http.StatusRequestEntityTooLarge, tooMuch, hint})
		return false
	}
	return true
}

func wrongTable(p *say.Printer, err error) *wrong {
	say, hint := saidIn(p, err)
	return &wrong{say, hint}
}

// drawStack shows the sheet for the stack the query asks for, filled in.
func (s *server) drawStack(w http.ResponseWriter, r *http.Request, d *desk, q, values url.Values, edit func(*stackView)) {
	d.query = q.Get
	sh := sieveSheet(d)
	f := form(sh, newInput(d.say, values), "/record/sieve?"+q.Encode(), d.state.People)
	v := sheetView{Form: f, Stack: d.viewStack(sh.Stack)}
	edit(v.Stack)
	status := http.StatusOK
	if v.Stack.Wrong != nil {
		status = http.StatusUnprocessableEntity
	}
	s.render(w, r, status, "sheet", view{Title: sh.Title, Place: sh.Place, Crumb: placeLink(sh.Place), Body: v})
}

// stackBody is what a table says, as far as it decides which fields the sheet
// has.
func stackBody(t exchange.Stack) *shop.Sieved {
	b := &shop.Sieved{Series: shop.OwnSet, Holes: shop.WovenWire}
	if len(t.Sieves) > 0 {
		b.Holes = map[sieve.Form]shop.Holes{sieve.PlateRound: shop.RoundHoles, sieve.PlateSquare: shop.SquareHoles, sieve.Woven: shop.WovenWire}[t.Sieves[0].Form]
		for _, s := range standards {
			if s.of == t.Sieves[0].Standard {
				b.Series = s.series
			}
		}
	}
	for _, x := range t.Sieves {
		if x.Standard != t.Sieves[0].Standard {
			b.Series = shop.OwnSet
		}
		b.Sieves = append(b.Sieves, shop.OnSieve{Opening: x.Opening})
	}
	return b
}

// filledStack are the answers a table gives. Masses of several portions are
// added up without the sieves; of one portion they stay as they were weighed.
func filledStack(p *say.Printer, t exchange.Stack) url.Values {
	v := url.Values{}
	set := func(path string, kg float64) {
		v.Set(path, p.Typed(quantity.Mass, kg, "g"))
	}
	charge, one := 0.0, len(t.Portions) == 1
	for row := range len(t.Sieves) + 1 {
		path := "pan_"
		if row < len(t.Sieves) {
			path = "sieves." + strconv.Itoa(row) + ".mass_"
		}
		sum, tare := 0.0, 0.0
		for _, p := range t.Portions {
			sum, tare = sum+p.Rows[row].Mass-p.Rows[row].Tare, p.Rows[row].Tare
		}
		if one && tare > 0 {
			sum += tare
			v.Set("gross", "yes")
			set(strings.Replace(strings.Replace(path, "mass_", "tare_", 1), "pan_", "pan_tare_", 1)+"kg", tare)
		}
		set(path+"kg", sum)
	}
	for _, p := range t.Portions {
		charge += p.Charge
	}
	if charge > 0 {
		set("charge_kg", charge)
	}
	if !one {
		v.Set("portions", strconv.Itoa(len(t.Portions)))
	}
	if t.Hole != nil {
		set("hole_m", *t.Hole)
	}
	if t.Long != nil {
		v.Set("long", strconv.Itoa(*t.Long))
	}
	return v
}

// liveChart is the curve that grows while the masses are typed; assets/stack.js
// fills it.
type liveChart struct{ say *say.Printer }

// Chart is the empty picture.
func (l liveChart) Chart() chartView {
	p := l.say
	return chartView{Key: "live", Title: p.Line("form.what_passes"), Summary: p.Line("form.the_curve_grows_while_you"), say: p, Comma: p.Comma(), Zero: true, Lines: []lineView{}, Points: []answer.Points{},
		Curves: []curveView{{Key: "product", Name: p.Line("form.this_sample"), Dots: true, X: []float64{}, Low: []float64{}, Mid: []float64{}, High: []float64{}}},
		X:      axisView{Name: p.Line("form.sieve_opening"), Unit: "mm", Log: true}, Y: axisView{Name: p.Line("form.share_that_passes"), Unit: "%"}}
}
