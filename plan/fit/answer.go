package fit

import (
	"cmp"
	"fmt"
	"slices"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/quantity"
)

// answer asks every question and sums up.
func (j *job) answer() (Fitness, error) {
	f := j.frame()
	for _, ask := range []func() (Item, error){
		j.enough, j.onePolymer, j.metalOut, j.sizes, j.isDry, j.runsOut, j.takesItIn, j.melts, j.bearable, j.staysOpen, j.holdsStill,
	} {
		x, err := ask()
		if err != nil {
			return f, err
		}
		f.Items = append(f.Items, x)
	}
	j.afterSieving(f.Items)
	w := worst(f.Items)
	f.Verdict, f.Decides, f.Answer = w.Verdict, w.Key, j.sum(w)
	f.Chance = j.allWell(f.Items)
	f.Spoilers = j.spoilers(f.Items)
	if j.printer.Name == "" {
		f.Spoilers = append([]answer.Spoiler{j.noPrinter()}, f.Spoilers...)
		f.Spoilers = f.Spoilers[:min(len(f.Spoilers), answer.MostSpoilers)]
	}
	f.Figures = j.background()
	f.Cautions = j.cautions()
	var err error
	if f.Sheet, err = j.sheet(); err != nil {
		return f, err
	}
	f.Charts, err = j.charts()
	return f, err
}

// frame is an answer without its findings.
func (j *job) frame() Fitness {
	return Fitness{Lot: j.lot.ID, LotName: j.lot.Name, Polymer: j.lot.Polymer, NeedName: j.req.Need.Name, Printer: j.printer.Name,
		Spoilers: []answer.Spoiler{}, Items: []Item{}, Figures: []figure.Figure{}, Cautions: []answer.Caution{}, Charts: []answer.Chart{},
		Sheet: Sheet{Settings: []figure.Figure{}, Advice: []string{}}, Draws: j.req.Draws, Seed: j.req.Seed,
		Chance: figure.Exact("all_well", "chance that all of it goes well", quantity.Share, 0, figure.Reckoned)}
}

// refused is the answer for what must not be melted.
func (j *job) refused(block *answer.Block) Fitness {
	f := j.frame()
	if block == nil {
		return f
	}
	f.Refused, f.Verdict, f.Decides = block, answer.No, "polymer"
	f.Answer = fmt.Sprintf("No: %s must not be melted. %s", answer.LotName(j.lot), block.Why)
	f.Cautions = []answer.Caution{{Where: answer.OfMaterial, Text: block.Nearest}}
	return f
}

// allWell is the share of the draws in which everything goes well at once,
// as far as draws can tell; what rests on a chance of its own counts with it.
func (j *job) allWell(items []Item) figure.Figure {
	all := 0.0
	have, need := j.lot.Mass, *j.req.Strength
	wrong := slices.ContainsFunc(items, func(x Item) bool { return x.Key == "polymer" && x.Verdict == answer.No })
	if !wrong {
		all = share(j.runs, func(r run) bool {
			return r.want <= have && r.rightOne && r.metal <= mostMetal && r.d95 <= r.feed && r.fines <= MostFines && r.water <= r.dryLimit &&
				r.bridge.Runs() && r.takesIn >= r.peak && r.melts >= r.mean && r.warm && r.pressure <= r.bears && r.pumps >= r.mean &&
				r.opens && r.strength >= need
		})
	}
	f := figure.Exact("all_well", "chance that all of it goes well", quantity.Share, all, figure.Reckoned)
	return f.From("share of the draws in which every question is answered well at once")
}

// sum is the whole in a sentence: no better than its worst item.
func (j *job) sum(w Item) string {
	lead := map[answer.Verdict]string{
		answer.Yes:      "Yes: every question is answered well.",
		answer.Likely:   "Likely: ",
		answer.Open:     "It could go either way: ",
		answer.Unknown:  "Not known yet: ",
		answer.Unlikely: "Unlikely: ",
		answer.No:       "No: ",
	}[w.Verdict]
	if w.Verdict == answer.Yes {
		return fmt.Sprintf("%s %s is fit for %s.", lead, answer.LotName(j.lot), j.forWhat())
	}
	text := fmt.Sprintf("%s%s is only as good as its worst answer: %s %s", lead, answer.LotName(j.lot), w.Question, w.Says)
	if w.Change != nil {
		text += " " + answer.Sentence(w.Change.Do)
	}
	return text
}

func (j *job) forWhat() string {
	if j.req.Need.Name == "" {
		return "this print"
	}
	return j.req.Need.Name
}

// spoilers are the three worst answers with what would change them, after
// entries that cannot be true.
func (j *job) spoilers(items []Item) []answer.Spoiler {
	all := append([]answer.Spoiler{}, j.doubts...)
	if len(j.facts.failed) > 0 {
		why := "nobody wrote down why"
		if j.facts.failed[0] != "" {
			why = j.facts.failed[0]
		}
		all = append(all, answer.Spoiler{What: fmt.Sprintf("The last print of it that failed: %s.", why), Remedy: "Be sure that the cause is gone before a long print."})
	}
	bad := slices.Clone(items)
	slices.SortStableFunc(bad, func(a, b Item) int {
		if d := b.Verdict.Rank() - a.Verdict.Rank(); d != 0 {
			return d
		}
		return cmp.Compare(a.Chance, b.Chance)
	})
	for _, x := range bad {
		if x.Verdict != answer.Yes && x.Change != nil {
			remedy := answer.Sentence(x.Change.Do)
			if x.Change.Shown != "" {
				remedy += " Takes " + x.Change.Shown + "."
			}
			all = append(all, answer.Spoiler{What: fmt.Sprintf("%s %s. %s", x.Question, answer.Capital(string(x.Verdict)), x.Says), Remedy: remedy})
		}
	}
	return all[:min(len(all), answer.MostSpoilers)]
}

// noPrinter says what was assumed where no printer is described.
func (j *job) noPrinter() answer.Spoiler {
	b := &j.beliefs
	return answer.Spoiler{What: fmt.Sprintf("No printer is described here, so its measures are assumed: a nozzle of %s, a barrel of %s, a hopper that opens %s, heaters of %s.",
		quantity.Length.Plain(b[fNozzle].Median), quantity.Length.Plain(b[fScrew].Median), quantity.Length.Plain(b[fExit].Median), quantity.Power.Plain(b[fHeaters].Median)),
		Remedy: "Describe your printer among the machines; what you measured of it replaces what is assumed."}
}

// background are the figures behind the check that no item shows.
func (j *job) background() []figure.Figure {
	var all []figure.Figure
	for _, p := range []param{fBulk, fFines, fSolid, fDryLimit, fWear, fPerTurn, fMostSpeed, fMostPressure, fHeaters, fRunny, fFlow, fPeak} {
		if p == fPerTurn && !j.measuredTurn() {
			continue
		}
		all = append(all, beliefFigure(j.beliefs[p]))
	}
	return all
}

// cautions gathers what a person should hear before the nozzle is hot.
func (j *job) cautions() []answer.Caution {
	var all []answer.Caution
	add := func(where, text string) { all = append(all, answer.Caution{Where: where, Text: text}) }
	for _, c := range j.polymer.Cautions() {
		if c.Kind == polymer.Fumes || c.Kind == polymer.Drying {
			add(answer.OfMaterial, answer.Sentence(c.Text))
		}
	}
	all = append(all, answer.Uncleared(j.lot)...)
	add(atPrinter, "Barrel and nozzle burn skin, and a blocked nozzle can let go suddenly: gloves and glasses, nobody in front of it, and let the pressure off before the nozzle is loosened.")
	add(atPrinter, "Never leave a hot barrel alone, and never run a screw against a shut nozzle. What the head bears is its maker's word, not hopperful's.")
	return all
}

// atPrinter is where a caution stands.
const atPrinter = "at the printer"
