package drawing

import (
	"fmt"
	"html/template"
	"math"
	"unicode/utf8"

	"hopperful/fact"
	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/plan/traceability"
	"hopperful/quantity"
)

// The drawing of an age, in pixels of the screen: the bars, the numbers of
// passes, and below them the mean and the oldest twentieth on the same scale.
const (
	ageWide  = 340.0
	ageHigh  = 284.0
	ageTop   = 22.0  // the highest bar or range reaches here
	ageFloor = 160.0 // where the bars stand
	ageMean  = 216.0
	ageOld   = 252.0
	ageSide  = 6.0
	ageSlot  = 84.0 // of one bar, at most
	letter   = 7.2  // width of one
)

// agePicture is where everything of the drawing stands; age.html draws it.
type agePicture struct {
	Wide, High, Floor float64
	Says              string // to who cannot see it
	Fill              RGB
	Bars              []ageBar
	Texts             []ageText
	Marks             []ageMark

	slot float64 // of one bar
}

// ageBar is the share with one number of passes.
type ageBar struct {
	X, Y, Wide, High float64
	Reach            *ageReach // nil: as good as certain
}

// ageReach is the range of a share, beside its bar.
type ageReach struct{ Left, X, Top, Low float64 }

// ageText is a word of the drawing.
type ageText struct {
	Class string
	X, Y  float64
	Say   string
}

// ageMark is a figure below the bars: a tick on its range, with its name.
type ageMark struct {
	From, To, Low, High, X, Y, Top, Foot float64
	Name                                 ageText
}

// Age draws the share of a lot's mass by its number of passes, with the
// range of each, and marks the mean and the oldest twentieth.
func Age(p *say.Printer, a traceability.LotAge, rows []traceability.Passes, fill RGB) template.HTML {
	v := &agePicture{Wide: ageWide, High: ageHigh, Floor: ageFloor, Says: ageSummary(p, a, rows), Fill: fill,
		slot: math.Min(ageSlot, (ageWide-2*ageSide)/float64(len(rows)))}
	most := 0.0
	for _, x := range rows {
		most = math.Max(most, x.High)
	}
	high := func(share float64) float64 { return ageFloor - share/most*(ageFloor-ageTop) }
	at := func(passes float64) float64 { return v.at(passes, len(rows)) }
	for i, x := range rows {
		mid, wide := at(float64(i)), v.slot*0.62
		bar := ageBar{X: mid - wide/2, Y: high(x.Share), Wide: wide, High: ageFloor - high(x.Share)}
		if x.High-x.Low > 0.005 {
			beside := mid + v.slot/2 // where the bar's colour hides nothing
			bar.Reach = &ageReach{Left: beside - 3, X: beside, Top: high(x.High), Low: high(x.Low)}
		}
		v.Bars = append(v.Bars, bar)
		word := fmt.Sprint(x.Number)
		if x.OrMore {
			word += "+"
		}
		v.Texts = append(v.Texts, ageText{"share", mid, high(x.Share) - 6, AgeShare(x.Share)}, ageText{"passes", mid, ageFloor + 18, word})
	}
	v.Texts = append(v.Texts, ageText{"axis", ageWide / 2, ageFloor + 37, p.Line("age.axis")})
	mark := func(code string, y float64, f figure.Figure) {
		text, low, high := p.Line(code)+" "+p.WithRange(f), at(f.Low), at(f.High)
		wide := letter * float64(utf8.RuneCountInString(text))
		named := ageText{"named", math.Min(math.Max(2+wide/2, (low+high)/2), ageWide-wide/2-2), y + 20, text}
		v.Marks = append(v.Marks, ageMark{From: at(0), To: at(float64(len(rows) - 1)), Low: low, High: high, X: at(f.Value), Y: y, Top: y - 6, Foot: y + 6, Name: named})
	}
	mark("age.mean_mark", ageMean, a.Mean)
	mark("age.oldest_mark", ageOld, a.Oldest)
	return draw("age", v)
}

// AgeShare is a share as short as a bar is narrow.
func AgeShare(share float64) string {
	if share > 0 && share < 0.005 {
		return "<1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

// at is the place of a number of passes; what the last bar gathers stands there.
func (v *agePicture) at(passes float64, bars int) float64 {
	return ageWide/2 + (math.Min(passes, float64(bars-1))-float64(bars-1)/2)*v.slot
}

// ageSummary is the picture in a sentence.
func ageSummary(p *say.Printer, a traceability.LotAge, rows []traceability.Passes) string {
	var parts []fact.Saying
	for _, x := range rows {
		if x.Share > 0.005 {
			parts = append(parts, fact.Say("age.had_passes", fact.About("share", quantity.Share, x.Share), x.Said("n")))
		}
	}
	return p.Line("age.picture", fact.Lot("lot", string(a.Lot), ""), fact.Parts("parts", parts...), fact.Figure("mean", a.Mean), fact.Figure("oldest", a.Oldest))
}
