package blend

// What moving a limit would give, so that a person can ask for just that.

import (
	"math"
	"slices"

	"hopperful/fact"
	"hopperful/process/recipe"
	"hopperful/quantity"
)

// Ease is the question with a limit moved, and what that would give.
type Ease struct {
	Limit string // the key of what is moved, "nearest" for all that the nearest blend breaks
	Says  fact.Saying
	Set   []Setting // what to ask instead
}

// Setting is one thing to ask instead: a field of the request by its name in the
// address of the page, in SI units.
type Setting struct {
	Field string
	Value *float64 // nil: leave it open
}

func set(field string, v float64) Setting { return Setting{field, &v} }

func open(field string) Setting { return Setting{field, nil} }

// colourRelax is how far the colour is relaxed to see what that gives.
const colourRelax = 2.0

// eased adds what moving each limit that binds, and one lot more, would give.
func (j *blendJob) eased(b *Blending, r recipe.Recipe) error {
	for i, row := range j.rows {
		if !r.Limits[i].Binds() || len(row.moved(row.relax)) == 0 {
			continue
		}
		wider := j.wider(func(p *recipe.Problem) {
			p.Limits[i].Lo -= row.relax
			p.Limits[i].Hi += row.relax
		})
		if err := j.ease(b, r, wider, row.key, row.wider(), row.moved(row.relax)); err != nil {
			return err
		}
	}
	if j.wanted != nil && r.Curves[0].Binds() {
		wider := j.wider(func(p *recipe.Problem) { p.Curves[0].Limit += colourRelax })
		if err := j.ease(b, r, wider, "colour", fact.Say("blend.ease_colour", fact.Set("up_to", quantity.Number, j.within+colourRelax)), []Setting{set("within", j.within+colourRelax)}); err != nil {
			return err
		}
	}
	if most := j.problem.Most; len(r.Uses) == most && most < len(j.lots) {
		more := j.wider(func(p *recipe.Problem) { p.Most++ })
		return j.ease(b, r, more, "most_lots", fact.Say("blend.ease_lots", fact.Count("n", most+1)), []Setting{set("most_lots", float64(most+1))})
	}
	return nil
}

// plainRows are the rows a field of the same name limits from above.
var plainRows = []string{"mean_age", "fines", "moisture", "metal"}

// wider is the problem with something changed.
func (j *blendJob) wider(change func(*recipe.Problem)) recipe.Problem {
	p := j.problem
	p.Limits = append([]recipe.Limit(nil), p.Limits...)
	p.Curves = append([]recipe.Curve(nil), p.Curves...)
	change(&p)
	return p
}

// ease solves a problem with a limit moved, and tells when that gives something.
func (j *blendJob) ease(b *Blending, r recipe.Recipe, wider recipe.Problem, key string, with fact.Saying, to []Setting) error {
	a, err := recipe.Solve(j.ctx, wider, j.oneSoon())
	if err != nil || len(a.Recipes) == 0 {
		return err
	}
	say := j.gain(a.Recipes[0].Cost-r.Cost, with)
	if say.Empty() {
		return nil
	}
	b.Eases = append(b.Eases, Ease{key, say, to})
	for i := range b.Limits {
		if b.Limits[i].Key == key {
			b.Limits[i].Relax = say
		}
	}
	return nil
}

// wider says what a relaxed row would be.
func (r blendRow) wider() fact.Saying {
	if r.logs {
		return fact.Say("blend.ease_flow")
	}
	return fact.Say("blend.ease_row", r.what(), fact.About("up_to", r.kind, r.Hi+r.relax))
}

// moved is what to ask for the row to be wider by a step; nothing where no field
// of the request moves it.
func (r blendRow) moved(by float64) []Setting {
	switch r.key {
	case "mean_age", "fines", "moisture", "metal":
		return []Setting{set(r.key, r.Hi+by)}
	case "melt_flow":
		var both []Setting
		if !math.IsInf(r.Lo, 0) {
			both = append(both, set("flow_low", math.Exp(r.Lo-by)))
		}
		if !math.IsInf(r.Hi, 0) {
			both = append(both, set("flow_high", math.Exp(r.Hi+by)))
		}
		return both
	}
	return nil
}

// gain says what a change of the cost brings; nothing when nobody would see it.
func (j *blendJob) gain(cost float64, with fact.Saying) fact.Saying {
	w := fact.Parts("with", with)
	switch {
	case !(cost < 0):
	case j.req.Order == Cheapest && cost < -0.005:
		return fact.Say("blend.gain_cost", w.As("with"), fact.Figure("less", j.money(-cost)))
	case j.req.Order == NearestColour && cost < -unseenTint/2:
		return fact.Say("blend.gain_colour", w.As("with"), fact.About("by", quantity.Number, -cost))
	case j.req.Order == OldFirst && cost < -1e-3*j.mass:
		return fact.Say("blend.gain_age", w.As("with"), fact.About("by", quantity.Duration, -cost/j.mass*86400))
	}
	return fact.Saying{}
}

// opened adds, where there is no recipe, what would let the nearest blend be one,
// and each condition of the conflict left open.
func (j *blendJob) opened(b *Blending, a recipe.Answer) {
	if b.Nearest != nil && len(b.Nearest.Breaks) > 0 {
		if to, all := j.toNearest(a.Nearest); all && len(to) > 0 {
			b.Eases = append(b.Eases, Ease{"nearest", fact.Say("blend.take_nearest"), to})
		}
	}
	c := a.Conflict
	if c == nil {
		return
	}
	add := func(key string, says fact.Saying, to ...Setting) { b.Eases = append(b.Eases, Ease{key, says, to}) }
	for _, i := range c.High {
		switch row := j.rows[i]; row.key {
		case "mean_age", "fines", "moisture", "metal":
			add(row.key, fact.Say("blend.leave_open", row.what()), open(row.key))
		case "melt_flow":
			add(row.key, fact.Say("blend.leave_most_flow"), open("flow_high"))
		}
	}
	for _, i := range c.Low {
		if j.rows[i].key == "melt_flow" {
			add("melt_flow", fact.Say("blend.leave_least_flow"), open("flow_low"))
		}
	}
	if len(c.Curve) > 0 {
		add("colour", fact.Say("blend.leave_colour"), open("rgb"), open("within"))
	}
	if c.Most {
		more := 2 * j.problem.Most
		add("most_lots", fact.Say("blend.allow_lots", fact.Count("n", more)), set("most_lots", float64(more)))
	}
	if c.Small && j.req.Least > j.req.Step {
		add("least", fact.Say("blend.allow_least", fact.Set("mass", quantity.Mass, j.req.Step)), set("least", j.req.Step))
	}
}

// toNearest is what to ask so that the nearest blend keeps it; all is false where
// something no question changes is broken too.
func (j *blendJob) toNearest(n *recipe.Nearest) (to []Setting, all bool) {
	if math.Abs(n.Short) > j.req.Step/2 {
		return nil, false
	}
	for i, over := range n.Over {
		row := j.rows[i]
		switch {
		case over == 0:
		case row.key == "melt_flow" && over < 0:
			to = append(to, set("flow_low", rounded(math.Exp(row.Lo+over), -1)))
		case row.key == "melt_flow":
			to = append(to, set("flow_high", rounded(math.Exp(row.Hi+over), 1)))
		case slices.Contains(plainRows, row.key):
			to = append(to, set(row.key, rounded(row.Hi+over, 1)))
		default:
			return nil, false
		}
	}
	for _, over := range n.Curves {
		if over > 0 {
			to = append(to, set("within", rounded(j.within+over, 1)))
		}
	}
	return to, true
}

// rounded is a number to three digits, up or down, and a little further.
func rounded(v, way float64) float64 {
	if v <= 0 {
		return v
	}
	digit := math.Pow(10, math.Floor(math.Log10(v))-2)
	if way > 0 {
		return math.Ceil(v/digit+1e-3) * digit
	}
	return math.Floor(v/digit-1e-3) * digit
}
