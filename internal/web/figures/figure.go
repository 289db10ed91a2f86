package figures

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

// View is a figure as every page shows it; parts/figure.html draws it.
type View struct {
	Name     string
	Value    string // "1.24"
	Unit     string // "kg"
	Range    string // "1.1–1.4 kg"
	Origin   string
	Limit    string // "at most 62.0 °C"
	LimitBy  string // the limit's name
	Mark     *Mark  // how well the limit holds
	InTen    string
	Bar      *Bar
	How      string
	Inputs   []View
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

// SplitUnit separates a printed number from its unit.
func SplitUnit(shown string) (value, unit string) {
	if m := oneUnit.FindStringSubmatch(shown); m != nil {
		return m[1], m[2]
	}
	return shown, ""
}

// figRecords is how many records stand beside a figure; --why and --json have all.
const figRecords = 12

// Of shows a figure in the words of p.
func Of(p *say.Printer, f figure.Figure) View {
	if !p.Has(f.How) {
		f.How = p.Decimal(f.How) // a formula, the same in every language but for this
	}
	f = p.Figure(f)
	v := View{Name: f.Name, Range: p.Number(f.ShownRange()), Origin: p.Origin(f), Limit: p.Bound(f),
		Bar: ViewBar(f), How: f.How, Records: f.Records, Warnings: f.Warnings, reckoned: f.Basis == figure.Reckoned}
	if n := len(v.Records) - figRecords; n > 0 {
		newest := slices.Clone(v.Records)
		slices.SortFunc(newest, func(a, b int64) int { return cmp.Compare(b, a) })
		v.Records, v.Earlier = newest[:figRecords], n
	}
	v.Value, v.Unit = SplitUnit(p.Number(f.Shown()))
	if f.Limit != nil && !f.Limit.Open() {
		m := Marked(p, answer.Held(f.Limit.Holds))
		v.LimitBy, v.Mark, v.InTen = f.Limit.Name, &m, inTen(p, f.Limit.Holds)
	}
	for _, s := range f.Sources {
		v.Sources = append(v.Sources, ViewSource(p, s))
	}
	for _, in := range f.Inputs {
		behind := Of(p, in)
		behind.Bar = nil // among the reasons the numbers stand close: the range is told in words
		v.Inputs = append(v.Inputs, behind)
	}
	return v
}

// HasWhy reports whether there is anything to open.
func (v View) HasWhy() bool {
	return v.Same != "" || v.How != "" || len(v.Inputs) > 0 || len(v.Sources) > 0 || len(v.Records) > 0 || len(v.Warnings) > 0 || v.Limit != ""
}

// HasSource reports whether there is anything to say of where it comes from.
func (v View) HasSource() bool {
	return v.Limit != "" || !v.ShowsOrigin() || len(v.Sources) > 0 || len(v.Records) > 0 || len(v.Warnings) > 0
}

// ShowsOrigin reports whether the word for where it comes from stands beside the
// number. Most numbers of a plan are reckoned; that word waits in the reasons.
func (v View) ShowsOrigin() bool { return !v.reckoned }

// Plain is the value with its unit in one text.
func (v View) Plain() string { return strings.TrimSpace(v.Value + " " + v.Unit) }

// The range bar's drawing area.
const (
	BarWidth  = 200.0
	barMargin = 8.0
)

// Bar is the geometry of a range bar: 10 to 90 % as a bar, the median as a
// tick, the limit as a dashed line.
type Bar struct {
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

// Scale lays values out along a bar.
type Scale struct{ From, To float64 }

// At is where a value lies along the bar.
func (s Scale) At(v float64) float64 {
	pad := 0.06 * (s.To - s.From)
	from, to := s.From-pad, s.To+pad
	return math.Round(10*(barMargin+(v-from)/(to-from)*(BarWidth-2*barMargin))) / 10
}

// RangeBar is a figure's range on a scale.
func RangeBar(f figure.Figure, s Scale) *Bar {
	b := &Bar{Lo: s.At(f.Low), Mid: s.At(f.Value)}
	b.Width = math.Max(1, s.At(f.High)-b.Lo)
	return b
}

// ViewBar lays the range out between its own ends, widened to show the limit
// where that is near enough to matter. A figure without a range has no bar.
func ViewBar(f figure.Figure) *Bar {
	if !f.IsForecast() {
		return nil
	}
	s := Scale{f.Low, f.High}
	span := f.High - f.Low
	near := f.Limit != nil && f.Limit.Value > s.From-3*span && f.Limit.Value < s.To+3*span
	if near {
		s = Scale{math.Min(s.From, f.Limit.Value), math.Max(s.To, f.Limit.Value)}
	}
	b := RangeBar(f, s)
	if !near {
		return b
	}
	b.HasLimit, b.LimitAt = true, s.At(f.Limit.Value)
	step := 5.0
	if f.Limit.Side == figure.Over {
		step = -step
	}
	for x := b.LimitAt + step; x > 0 && x < BarWidth; x += step {
		b.Beyond = append(b.Beyond, x)
	}
	return b
}

// BarBeside is a forecast's bar with what was measured as an open circle.
func BarBeside(forecast, actual figure.Figure) *Bar {
	s := Scale{math.Min(forecast.Low, actual.Value), math.Max(forecast.High, actual.Value)}
	if s.From == s.To {
		return nil
	}
	b := RangeBar(forecast, s)
	b.HasDot, b.DotAt = true, s.At(actual.Value)
	return b
}

// BarOver is what is believed now over what the books said.
func BarOver(book, now figure.Figure) *Bar {
	s := Scale{math.Min(book.Low, now.Low), math.Max(book.High, now.High)}
	if s.From == s.To {
		return nil
	}
	b := RangeBar(now, s)
	b.HasBook, b.BookLo = true, s.At(book.Low)
	b.BookWidth = math.Max(1, s.At(book.High)-b.BookLo)
	return b
}

// sourceView is where a number comes from, and where that can be read.
type sourceView struct {
	Text, Title string
	Link        string // a page, "" for none
	Number      string // of a standard or report
	Mind        string // what to bear in mind of the address
}

// ViewSource shows where a figure comes from.
func ViewSource(p *say.Printer, r source.Ref) sourceView {
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
