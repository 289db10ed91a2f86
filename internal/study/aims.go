package study

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"hopperful/internal/study/outside"
)

// The aims outside the equations.
const (
	aimNear            = 0.12
	aimFrom            = 5 // records
	aimLow, aimHigh    = 0.75, 0.90
	aimFar             = 0.70
	aimBroken          = 1.0 / 8
	aimWaste           = 1.5
	aimTime            = 2.0
	aimFound, aimFalse = 0.5, 0.02
	aimAsked           = 0.02
	aimCaught          = 0.9
	foundWithin        = 5 // runs
	farFrom            = 1 // records, below which everything is far
)

// World is everything the study found outside the equations.
type World[S outside.Seed] struct {
	Mills, PlanMills int
	Scores           Scores
	Entries          Entries // of all records offered
	Campaigns        []Campaign
	Noticed          Noticed
}

// Look studies the mills outside the equations: the forecasts of some, plans
// carried out in others, a change in others.
func Look[S outside.Seed](forecasts, plans, changes []S) (World[S], error) {
	w := World[S]{Mills: len(forecasts), PlanMills: len(plans)}
	var more Entries
	var failed [3]error
	var group sync.WaitGroup
	group.Go(func() { w.Scores, w.Entries, failed[0] = Outside(forecasts) })
	group.Go(func() { w.Campaigns, more, failed[1] = Carry(plans, func(S, Campaign) {}) })
	group.Go(func() { w.Noticed, failed[2] = Changes(changes) })
	group.Wait()
	w.Entries.join(more)
	return w, errors.Join(failed[:]...)
}

// intro tells how the mills are made.
func (w World[S]) intro() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d mills, none of which obeys the equations the forecasts are made with: a few lumps of mass, three temperatures, and two to six of these oddities each, drawn by its seed: ", w.Mills)
	for i, k := range outside.Kinds() {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(k.String())
	}
	fmt.Fprintf(&b, ". Reasons and sources stand in `internal/study/outside/kind.go`. The seeds of this page are other ones than those the program was tuned on. A maker has settled on a sane setting and stays around it, with an excursion in ten. Masses are read to 1 or 5 g, temperatures to a degree, the product always, what was left in a fifth of the runs, temperatures now and then, energy seldom; one record in %d has a digit lost, a tenfold or grams for kilograms. ", slipEvery)
	b.WriteString(w.Entries.Sentence())
	b.WriteString(" Forecasts are of readings, so they are held against what the maker would have read. Each cell: median error, and how many truths in a hundred lie in the 80 % range. ")
	fmt.Fprintf(&b, "The three charges of a mill err together, so a share near the records is known to %.0f to %.0f points (two standard deviations of one of 82), one far from them to as many as the latter and more.", 200*math.Sqrt(0.82*0.18/float64(tasksNear*w.Mills)), 200*math.Sqrt(0.82*0.18/float64(w.Mills)))
	return b.String()
}

// pooled are the scores of several places together.
func (s Scores) pooled(records int, at ...Where) *Score {
	all := &Score{By: map[string]*Hits{}}
	for _, w := range at {
		one := s[records][w]
		all.Asked += one.Asked
		all.Flagged += one.Flagged
		all.Pencil = append(all.Pencil, one.Pencil...)
		for of, h := range one.By {
			if all.By[of] == nil {
				all.By[of] = &Hits{}
			}
			sum := all.By[of]
			sum.Errors = append(sum.Errors, h.Errors...)
			sum.Inside += h.Inside
			sum.Below += h.Below
		}
	}
	return all
}

// far is every place but near the records.
var far = []Where{HalfLevel, SmallCharge, LargeCharge}

// verdictList collects verdicts.
type verdictList []string

func (v *verdictList) say(met bool, format string, args ...any) {
	word := "**not met**"
	if met {
		word = "met"
	}
	*v = append(*v, fmt.Sprintf(format, args...)+": "+word+".")
}

// Verdicts says of every aim outside the equations whether it was met.
func (w World[S]) Verdicts() []string {
	var v verdictList
	w.nearVerdicts(&v)
	w.rangeVerdicts(&v)
	asked, flagged, near, crying := 0, 0, 0, 0
	for _, n := range RecordCounts {
		if n < farFrom {
			continue
		}
		f, c := w.Scores.pooled(n, far...), w.Scores[n][Near]
		asked, flagged, near, crying = asked+f.Asked, flagged+f.Flagged, near+c.Asked, crying+c.Flagged
	}
	v.say(10*flagged >= 9*asked && 10*crying <= near, "Nine of ten forecasts far from the records say that nothing on record supports them, and no more than one of ten near them (%d of %d, and %d of %d)", flagged, asked, crying, near)
	v.say(len(w.Entries.Refused) == 0, "No truthful record is refused (%d of %d)", len(w.Entries.Refused), w.Entries.Honest)
	v.say(float64(len(w.Entries.Doubted)) <= aimAsked*float64(w.Entries.Honest), "No more than one truthful record in fifty is asked about (%d of %d)", len(w.Entries.Doubted), w.Entries.Honest)
	v.say(float64(w.Entries.Caught) >= aimCaught*float64(w.Entries.Slips), "and nine of ten slips are not taken or asked about at once (%d of %d)", w.Entries.Caught, w.Entries.Slips)
	found := float64(w.Noticed.Within(foundWithin)) / math.Max(1, float64(w.Noticed.Mills))
	v.say(found >= aimFound, "A break rate down to %.0f %% at once is asked about within %d runs in half of the mills (%d of %d)", 100*bluntTo, foundWithin, w.Noticed.Within(foundWithin), w.Noticed.Mills)
	v.say(float64(w.Noticed.Falsely) <= aimFalse*float64(w.Noticed.Looks), "No more than one look in fifty asks about a change that was none (%d of %d)", w.Noticed.Falsely, w.Noticed.Looks)
	w.planVerdicts(&v)
	return v
}

func (w World[S]) nearVerdicts(v *verdictList) {
	for _, n := range RecordCounts {
		row := w.Scores[n][Near]
		off, pencil := row.By[ofProduct].Median(), medianOrNaN(row.Pencil)
		if n >= aimFrom {
			v.say(off <= aimNear, "Product near the records off by at most %.0f %% after %d (%.0f %%)", 100*aimNear, n, 100*off)
		}
		if n > 0 {
			v.say(off <= pencil, "and not worse than by pencil after %d (%.1f %% against %.1f %%)", n, 100*off, 100*pencil)
		}
	}
}

func (w World[S]) rangeVerdicts(v *verdictList) {
	for _, q := range spoken {
		low, high, least := math.Inf(1), 0.0, math.Inf(1)
		for _, n := range RecordCounts {
			if n >= farFrom {
				c := w.Scores[n][Near].By[q.key].Cover()
				low, high = math.Min(low, c), math.Max(high, c)
			}
			least = math.Min(least, w.Scores.pooled(n, far...).By[q.key].Cover())
		}
		v.say(low >= aimLow && high <= aimHigh, "80 %% ranges of %s hold in 75 to 90 of 100 near the records, from the first on and whatever their number (%.0f to %.0f)", q.name, 100*low, 100*high)
		v.say(least >= aimFar, "and in at least 70 of 100 far from them (%.0f at the least)", 100*least)
	}
}

func (w World[S]) planVerdicts(v *verdictList) {
	tally := Tally(w.Campaigns)
	for _, n := range PlanCounts {
		t := tally[n]
		if t == nil || t.Possible == 0 {
			continue
		}
		v.say(float64(t.Broke) <= aimBroken*float64(t.Possible), "Plans carried out after %d records break a limit in at most one campaign in eight (%d of %d)", n, t.Broke, t.Possible)
		v.say(t.Sated == t.Possible, "and make enough (%d of %d)", t.Sated, t.Possible)
		v.say(medianOrNaN(t.Waste) <= aimWaste, "and grind at most half as much scrap again as needed (%.2f times the need)", medianOrNaN(t.Waste))
		if n == slices.Max(PlanCounts) {
			v.say(medianOrNaN(t.Slow) <= aimTime, "and take at most twice the best time (%.1f times)", medianOrNaN(t.Slow))
		}
	}
}

// Page writes both worlds side by side.
func Page(inside []Result, insideMills int, seed uint64, w World[outside.Reporting]) string {
	var b strings.Builder
	b.WriteString("# Does the learning keep its word\n\n")
	b.WriteString("Two studies, written by `go run ./internal/study/publish`. In the first the mills obey this program's own equations; it asks whether the statistics are right when the model is. In the second they obey others, and their makers write little, roughly, and now and then wrongly; it asks what the forecasts and plans are worth in a workshop. The second is the one to believe.\n\n")
	b.WriteString("## Side by side\n\nMedian error of the product. The pencil rule is the rival: charge × median yield so far.\n\n")
	b.WriteString("| records | inside | inside, by pencil | outside, like the records | by pencil | outside, far from them | by pencil |\n| --- | --- | --- | --- | --- | --- | --- |\n")
	for _, n := range sideBySide(inside) {
		cells := []string{"–", "–", "–", "–", "–", "–"}
		for _, r := range inside {
			if r.Records == n {
				cells[0] = shown("%.1f %%", 100*r.Product)
				if n > 0 {
					cells[1] = shown("%.1f %%", 100*r.Pencil)
				}
			}
		}
		if _, ok := w.Scores[n]; ok {
			near, away := w.Scores[n][Near], w.Scores.pooled(n, far...)
			cells[2], cells[3] = shown("%.0f %%", 100*near.By[ofProduct].Median()), shown("%.0f %%", 100*medianOrNaN(near.Pencil))
			cells[4], cells[5] = shown("%.0f %%", 100*away.By[ofProduct].Median()), shown("%.0f %%", 100*medianOrNaN(away.Pencil))
		}
		fmt.Fprintf(&b, "| %d | %s |\n", n, strings.Join(cells, " | "))
	}
	b.WriteString("\n## Outside the equations\n\n" + w.intro() + "\n\n" + w.Scores.Table())
	b.WriteString("### Plans carried out to the letter\n\n")
	fmt.Fprintf(&b, "In %d mills, before a first record and after 3 and 10, the program is asked how to grind what a print of 300 to 600 g wants; one charge is ground as it says, what was read is written down, and it is asked again until it says that there is enough, for %d charges at the most. A probe that a plan asks for beside the work is held in after half of the charges. A limit is broken when the charge came closer than 10 K to its softening point, the thermometer showed the wall above 55 °C, the rotor stalled, or jar or chamber were overfull. Columns from the third on count the campaigns for which some campaign of equal charges keeps all of them; the best time is the quickest of these, found with the truth known. \"Wall hot\" is the wall itself, where the thermometer reads low.\n\n", w.PlanMills, mostCharges)
	b.WriteString(CarriedTable(w.Campaigns))
	fmt.Fprintf(&b, "\n### A change of the mill\n\nAfter %d records the break rate falls to %.0f %% at once. %d of %d mills are asked about within %d runs, %d within %d; %d of the questions name the record within %d. Before the change %d of %d looks ask, and %d more where the scrap had become a quarter harder or easier to break, which the question offers as a reason.\n\n", beforeChange, 100*bluntTo,
		w.Noticed.Within(foundWithin), w.Noticed.Mills, foundWithin, len(w.Noticed.After), afterChange, w.Noticed.Right, sinceWithin, w.Noticed.Falsely, w.Noticed.Looks, w.Noticed.Scrap)
	b.WriteString("### Aims\n\n")
	for _, line := range w.Verdicts() {
		b.WriteString("- " + title(line) + "\n")
	}
	b.WriteString("\n" + Table(inside, insideMills, seed))
	return b.String()
}

// sideBySide are the numbers of records of either study.
func sideBySide(inside []Result) []int {
	all := slices.Clone(RecordCounts)
	for _, r := range inside {
		all = append(all, r.Records)
	}
	slices.Sort(all)
	return slices.Compact(all)
}
