package web

import (
	"cmp"
	"math"
	"regexp"
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/source"
)

// figView is a figure as every page shows it; parts/figure.html draws it.
type figView struct {
	Name     string
	Value    string // "1.24"
	Unit     string // "kg"
	Range    string // "1.1–1.4 kg"
	Origin   string
	Limit    string // "at most 62.0 °C"
	LimitBy  string // the limit's name
	Mark     *mark  // how well the limit holds
	InTen    string
	Bar      *barView
	How      string
	Inputs   []figView
	Sources  []sourceView
	Records  []int64 // the latest of them
	Earlier  int     // how many more there are
	Warnings []string
	ID       string // by which other figures of the page lead here, "" where none does
	Same     string // where its reasons stand already

	reckoned bool
}

// oneUnit splits "1.24 kg" but not "3 min 20 s" or "7 g/10 min".
var oneUnit = regexp.MustCompile(`^([−-]?[0-9][0-9.,\x{00A0}\x{202F}]*)[ \x{00A0}\x{202F}]([^0-9]+)$`)

// splitUnit separates a printed number from its unit.
func splitUnit(shown string) (value, unit string) {
	if m := oneUnit.FindStringSubmatch(shown); m != nil {
		return m[1], m[2]
	}
	return shown, ""
}

// figRecords is how many records stand beside a figure; --why and --json have all.
const figRecords = 12

// viewFigureIn shows a figure in the words of p.
func viewFigureIn(p *say.Printer, f figure.Figure) figView {
	if !p.Has(f.How) {
		f.How = p.Decimal(f.How) // a formula, the same in every language but for this
	}
	f = p.Figure(f)
	v := figView{Name: f.Name, Range: p.Number(f.ShownRange()), Origin: p.Origin(f), Limit: p.Bound(f),
		Bar: viewBar(f), How: f.How, Records: f.Records, Warnings: f.Warnings, reckoned: f.Basis == figure.Reckoned}
	if n := len(v.Records) - figRecords; n > 0 {
		newest := slices.Clone(v.Records)
		slices.SortFunc(newest, func(a, b int64) int { return cmp.Compare(b, a) })
		v.Records, v.Earlier = newest[:figRecords], n
	}
	v.Value, v.Unit = splitUnit(p.Number(f.Shown()))
	if f.Limit != nil && !f.Limit.Open() {
		m := markIn(p, answer.Held(f.Limit.Holds))
		v.LimitBy, v.Mark, v.InTen = f.Limit.Name, &m, inTen(p, f.Limit.Holds)
	}
	for _, s := range f.Sources {
		v.Sources = append(v.Sources, viewSource(p, s))
	}
	for _, in := range f.Inputs {
		v.Inputs = append(v.Inputs, viewFigureIn(p, in))
	}
	return v
}

// HasWhy reports whether there is anything to open.
func (v figView) HasWhy() bool {
	return v.Same != "" || v.How != "" || len(v.Inputs) > 0 || len(v.Sources) > 0 || len(v.Records) > 0 || len(v.Warnings) > 0 || v.Limit != ""
}

// ShowsOrigin reports whether the word for where it comes from stands beside the
// number. Most numbers of a plan are reckoned; that word waits in the reasons.
func (v figView) ShowsOrigin() bool { return !v.reckoned }

// Plain is the value with its unit in one text.
func (v figView) Plain() string { return strings.TrimSpace(v.Value + " " + v.Unit) }

// The range bar's drawing area.
const (
	barWidth  = 200.0
	barMargin = 8.0
)

// barView is the geometry of a range bar: 10 to 90 % as a bar, the median as a
// tick, the limit as a dashed line.
type barView struct {
	Lo, Width, Mid float64
	HasLimit       bool
	LimitAt        float64
	Beyond         []float64 // hatching over the forbidden side
	HasDot         bool      // what was measured
	DotAt          float64
	HasBook        bool // what the books said, behind it
	BookLo         float64
	BookWidth      float64
}

// scale lays values out along a bar.
type scale struct{ from, to float64 }

func (s scale) at(v float64) float64 {
	pad := 0.06 * (s.to - s.from)
	from, to := s.from-pad, s.to+pad
	return math.Round(10*(barMargin+(v-from)/(to-from)*(barWidth-2*barMargin))) / 10
}

// rangeBar is a figure's range on a scale.
func rangeBar(f figure.Figure, s scale) *barView {
	b := &barView{Lo: s.at(f.Low), Mid: s.at(f.Value)}
	b.Width = math.Max(1, s.at(f.High)-b.Lo)
	return b
}

// viewBar lays the range out between its own ends, widened to show the limit
// where that is near enough to matter. A figure without a range has no bar.
func viewBar(f figure.Figure) *barView {
	if !f.IsForecast() {
		return nil
	}
	s := scale{f.Low, f.High}
	span := f.High - f.Low
	near := f.Limit != nil && f.Limit.Value > s.from-3*span && f.Limit.Value < s.to+3*span
	if near {
		s = scale{math.Min(s.from, f.Limit.Value), math.Max(s.to, f.Limit.Value)}
	}
	b := rangeBar(f, s)
	if !near {
		return b
	}
	b.HasLimit, b.LimitAt = true, s.at(f.Limit.Value)
	step := 5.0
	if f.Limit.Side == figure.Over {
		step = -step
	}
	for x := b.LimitAt + step; x > 0 && x < barWidth; x += step {
		b.Beyond = append(b.Beyond, x)
	}
	return b
}

// barBeside is a forecast's bar with what was measured as an open circle.
func barBeside(forecast, actual figure.Figure) *barView {
	s := scale{math.Min(forecast.Low, actual.Value), math.Max(forecast.High, actual.Value)}
	if s.from == s.to {
		return nil
	}
	b := rangeBar(forecast, s)
	b.HasDot, b.DotAt = true, s.at(actual.Value)
	return b
}

// barOver is what is believed now over what the books said.
func barOver(book, now figure.Figure) *barView {
	s := scale{math.Min(book.Low, now.Low), math.Max(book.High, now.High)}
	if s.from == s.to {
		return nil
	}
	b := rangeBar(now, s)
	b.HasBook, b.BookLo = true, s.at(book.Low)
	b.BookWidth = math.Max(1, s.at(book.High)-b.BookLo)
	return b
}

// sourceView is where a number comes from, and where that can be read.
type sourceView struct {
	Text, Title string
	Link        string // a page, "" for none
	Number      string // of a standard or report
	Mind        string // what to bear in mind of the address
}

func viewSource(p *say.Printer, r source.Ref) sourceView {
	v := sourceView{Text: r.String()}
	e, ok := source.Lookup(r.Key)
	if !ok {
		return v
	}
	v.Title = e.Fields["title"]
	v.Mind = p.Word(e.Mind())
	if at := e.Address(); strings.HasPrefix(at, "http") {
		v.Link = at
	} else {
		v.Number = at
	}
	return v
}
