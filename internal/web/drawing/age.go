package drawing

import (
	"fmt"
	"html/template"
	"math"
	"strings"
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

// ageSketch is a drawing in the making.
type ageSketch struct {
	out  strings.Builder
	slot float64
	bars int
	say  *say.Printer
}

// Age draws the share of a lot's mass by its number of passes, with the
// range of each, and marks the mean and the oldest twentieth.
func Age(p *say.Printer, a traceability.LotAge, rows []traceability.Passes, fill RGB) template.HTML {
	s := &ageSketch{slot: math.Min(ageSlot, (ageWide-2*ageSide)/float64(len(rows))), bars: len(rows), say: p}
	most := 0.0
	for _, x := range rows {
		most = math.Max(most, x.High)
	}
	high := func(share float64) float64 { return ageFloor - share/most*(ageFloor-ageTop) }
	fmt.Fprintf(&s.out, `<svg class="ages" viewBox="0 0 %g %g" width="%g" height="%g" role="img" aria-label="%s">`,
		ageWide, ageHigh, ageWide, ageHigh, template.HTMLEscapeString(ageSummary(p, a, rows)))
	for i, p := range rows {
		x, wide := s.at(float64(i)), s.slot*0.62
		fmt.Fprintf(&s.out, `<rect class="bar-of" fill="%s" x="%.1f" y="%.1f" width="%.1f" height="%.1f"/>`, fill, x-wide/2, high(p.Share), wide, ageFloor-high(p.Share))
		if p.High-p.Low > 0.005 {
			x += s.slot / 2 // beside the bar, where its colour hides nothing
			fmt.Fprintf(&s.out, `<path class="reach" d="M%.1f %.1fh6M%.1f %.1fV%.1fM%.1f %.1fh6"/>`, x-3, high(p.High), x, high(p.High), high(p.Low), x-3, high(p.Low))
		}
	}
	fmt.Fprintf(&s.out, `<line class="floor" x1="0" x2="%g" y1="%g" y2="%g"/>`, ageWide, ageFloor, ageFloor)
	for i, p := range rows {
		s.name("share", s.at(float64(i)), high(p.Share)-6, AgeShare(p.Share))
		word := fmt.Sprint(p.Number)
		if p.OrMore {
			word += "+"
		}
		s.name("passes", s.at(float64(i)), ageFloor+18, word)
	}
	s.name("axis", ageWide/2, ageFloor+37, p.Line("age.axis"))
	s.mark(p.Line("age.mean_mark"), ageMean, a.Mean)
	s.mark(p.Line("age.oldest_mark"), ageOld, a.Oldest)
	s.out.WriteString(`</svg>`)
	return template.HTML(s.out.String())
}

// AgeShare is a share as short as a bar is narrow.
func AgeShare(share float64) string {
	if share > 0 && share < 0.005 {
		return "<1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

// at is the place of a number of passes; what the last bar gathers stands there.
func (s *ageSketch) at(passes float64) float64 {
	return ageWide/2 + (math.Min(passes, float64(s.bars-1))-float64(s.bars-1)/2)*s.slot
}

// mark shows a figure below the bars: a tick on its range, with its name.
func (s *ageSketch) mark(name string, y float64, f figure.Figure) {
	text := name + " " + s.say.WithRange(f)
	x, low, high := s.at(f.Value), s.at(f.Low), s.at(f.High)
	fmt.Fprintf(&s.out, `<line class="rail" x1="%.1f" x2="%.1f" y1="%.1f" y2="%.1f"/>`, s.at(0), s.at(float64(s.bars-1)), y, y)
	fmt.Fprintf(&s.out, `<line class="span" x1="%.1f" x2="%.1f" y1="%.1f" y2="%.1f"/>`, low, high, y, y)
	fmt.Fprintf(&s.out, `<line class="tick" x1="%.1f" x2="%.1f" y1="%.1f" y2="%.1f"/>`, x, x, y-6, y+6)
	wide := letter * float64(utf8.RuneCountInString(text))
	at := math.Min(math.Max(2+wide/2, (low+high)/2), ageWide-wide/2-2)
	fmt.Fprintf(&s.out, `<text class="named" x="%.1f" y="%.1f">%s</text>`, at, y+20, template.HTMLEscapeString(text))
}

func (s *ageSketch) name(class string, x, y float64, text string) {
	fmt.Fprintf(&s.out, `<text class="%s" x="%.1f" y="%.1f">%s</text>`, class, x, y, template.HTMLEscapeString(text))
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
