package sensing

import (
	"cmp"
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/quantity"
	"hopperful/shop"
)

// taught is what runs at one level drew.
type taught struct {
	level       int
	grind, idle []float64
	runs        []int64
}

// fewWatts is how much a median must differ from what is on record to be worth a new
// description [W], and as a share.
const (
	fewWatts  = 3.0
	fewShares = 0.02
)

// Teach is what confirmed runs taught of a mill's draw at each level, and the description of
// the mill that would put it on record; nil where there is nothing new. From then on the plan
// takes these watts instead of guessing from the label.
func Teach(s *shop.State, seen Seen, mill string) (answer.Document, *shop.MillSet, error) {
	m, ok := s.Mill(mill)
	if !ok {
		return answer.Document{}, nil, shop.Refuse(shop.NotFound, "mill", fact.Say("live.no_such_mill", fact.Name("mill", mill)), fact.Say("live.see_mills"))
	}
	name := fact.Name("mill", mill)
	if m.Controller == nil || m.Controller.Levels == 0 {
		return answer.Document{Head: answer.Found(fact.Say("live.no_levels", name), fact.Say("live.no_levels_do"))}, nil, nil
	}
	all := levelsOf(s, seen, m)
	if len(all) == 0 {
		return answer.Document{Head: answer.Found(fact.Say("live.taught_nothing", name), fact.Say("live.taught_nothing_do"))}, nil, nil
	}
	next := m.Mill
	control := *m.Controller
	next.Controller = &control
	table := answer.Table{Key: "live_levels", Leads: true, Columns: []answer.Column{{Key: "at_level", Numbers: true}, {Key: "live_grinding", Numbers: true}, {Key: "live_empty", Numbers: true}, {Key: "live_of_runs", Numbers: true}}}
	changed := false
	for _, x := range all {
		row := []fact.Fact{fact.Count("at_level", x.level), blank("live_grinding"), blank("live_empty"), fact.Count("live_of_runs", len(x.runs))}
		if watts, ok := middle(x.grind); ok {
			row[1] = fact.Measured("live_grinding", quantity.Power, watts)
			changed = put(&control.Watts, x.level, watts) || changed
		}
		if watts, ok := middle(x.idle); ok {
			row[2] = fact.Measured("live_empty", quantity.Power, watts)
			changed = put(&control.IdleWatts, x.level, watts) || changed
		}
		table.Rows = append(table.Rows, row)
	}
	doc := answer.Document{Head: answer.Found(fact.Say("live.taught", name, fact.Count("n", len(all)))), Tables: []answer.Table{table}}
	if !changed {
		doc.Head = answer.Found(fact.Say("live.taught_known", name))
		return doc, nil, nil
	}
	doc.Steps = []answer.Action{{Do: fact.Say("do.write_watts", name), Why: fact.Say("live.taught_why")}}
	return doc, &shop.MillSet{Mill: next}, nil
}

// levelsOf gathers the runs on record that were seen, by the level they ran at.
func levelsOf(s *shop.State, seen Seen, m shop.MillState) (all []taught) {
	taken := bookOf(s, seen).taken(seen.Runs)
	for _, r := range seen.Runs {
		if r.Mill != m.Name || r.Aside || r.Lost || len(r.Stalls) > 0 || r.Level <= 0 {
			continue
		}
		w, ok := taken[r.ID]
		if !ok {
			continue
		}
		g := w.body
		if g.Level == nil || *g.Level < 1 || *g.Level > m.Controller.Levels {
			continue
		}
		i := slices.IndexFunc(all, func(x taught) bool { return x.level == *g.Level })
		if i < 0 {
			i, all = len(all), append(all, taught{level: *g.Level})
		}
		x := &all[i]
		x.grind, x.runs = append(x.grind, meanWhileLoaded(r)), append(x.runs, int64(w.id))
		if r.Idle > 0 && r.End != nil && r.Empty > 15 {
			x.idle = append(x.idle, r.Idle)
		}
	}
	slices.SortFunc(all, func(a, b taught) int { return cmp.Compare(a.level, b.level) })
	return all
}

// meanWhileLoaded is the mean power from the start to the end of breaking [W]; what it drew
// empty after that is left out.
func meanWhileLoaded(r Run) float64 {
	time := r.Time() - r.Empty
	if time <= 0 || r.End == nil {
		return r.Energy.Mid / math.Max(1, r.Time())
	}
	return math.Max(0, r.Energy.Mid-r.Idle*r.Empty) / time
}

func middle(all []float64) (float64, bool) {
	if len(all) == 0 {
		return 0, false
	}
	return math.Round(answer.Quantile(all, 0.5)), true
}

// put writes the watts of a level down, and reports whether that says anything new.
func put(list *[]shop.LevelWatts, level int, watts float64) bool {
	next := slices.Clone(*list)
	i := slices.IndexFunc(next, func(x shop.LevelWatts) bool { return x.Level == level })
	switch {
	case i < 0:
		next = append(next, shop.LevelWatts{Level: level, Watts: watts})
		slices.SortFunc(next, func(a, b shop.LevelWatts) int { return cmp.Compare(a.Level, b.Level) })
	case math.Abs(next[i].Watts-watts) <= math.Max(fewWatts, fewShares*watts):
		return false
	default:
		next[i].Watts = watts
	}
	*list = next
	return true
}

func blank(name string) fact.Fact { return fact.Name(name, "") }
