package blend

// What moving a limit would give, so that a person can ask for just that.

import (
	"fmt"
	"math"
	"slices"

	"hopperful/process/recipe"
	"hopperful/quantity"
)

// Ease is the question with a limit moved, and what that would give.
type Ease struct {
	Limit string    `json:"limit"` // the key of what is moved, "nearest" for all that the nearest blend breaks
	Say   string    `json:"say"`
	Set   []Setting `json:"set"` // what to ask instead
}

// Setting is one thing to ask instead: a field of the request by its name in the
// address of the page, in SI units.
type Setting struct {
	Field string   `json:"field"`
	Value *float64 `json:"value"` // nil: leave it open
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
		if err := j.ease(b, r, wider, row.key, row.widerName(), row.moved(row.relax)); err != nil {
			return err
		}
	}
	if j.wanted != nil && r.Curves[0].Binds() {
		wider := j.wider(func(p *recipe.Problem) { p.Curves[0].Limit += colourRelax })
		if err := j.ease(b, r, wider, "colour", fmt.Sprintf("a difference up to %.3g", j.within+colourRelax), []Setting{set("within", j.within+colourRelax)}); err != nil {
			return err
		}
	}
	if most := j.problem.Most; len(r.Uses) == most && most < len(j.lots) {
		more := j.wider(func(p *recipe.Problem) { p.Most++ })
		return j.ease(b, r, more, "most_lots", fmt.Sprintf("%d lots", most+1), []Setting{set("most_lots", float64(most+1))})
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
func (j *blendJob) ease(b *Blending, r recipe.Recipe, wider recipe.Problem, key, with string, to []Setting) error {
	a, err := recipe.Solve(j.ctx, wider, j.oneSoon())
	if err != nil || len(a.Recipes) == 0 {
		return err
	}
	say := j.gain(a.Recipes[0].Cost-r.Cost, with)
	if say == "" {
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

// widerName says what a relaxed row would be.
func (r blendRow) widerName() string {
	if r.logs {
		return "a melt flow window a tenth wider on both sides"
	}
	return fmt.Sprintf("%s up to %s", r.name, r.kind.Rough(r.Hi+r.relax))
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

// gain puts a change of the cost into a sentence, "" when nobody would see it.
func (j *blendJob) gain(cost float64, with string) string {
	switch {
	case !(cost < 0):
		return ""
	case j.req.Order == Cheapest && cost < -0.005:
		return fmt.Sprintf("With %s the blend would cost %.2f %s less.", with, -cost, j.state.Shop.Currency)
	case j.req.Order == NearestColour && cost < -unseenTint/2:
		return fmt.Sprintf("With %s it could be %.2g nearer to the colour.", with, -cost)
	case j.req.Order == OldFirst && cost < -1e-3*j.mass:
		return fmt.Sprintf("With %s the stock used could be %s older on average.", with, quantity.Duration.Rough(-cost/j.mass*86400))
	}
	return ""
}

// opened adds, where there is no recipe, what would let the nearest blend be one,
// and each condition of the conflict left open.
func (j *blendJob) opened(b *Blending, a recipe.Answer) {
	if b.Nearest != nil && len(b.Nearest.Breaks) > 0 {
		if to, all := j.toNearest(a.Nearest); all && len(to) > 0 {
			b.Eases = append(b.Eases, Ease{"nearest", "Take the nearest blend, and let these limits go as far as it does.", to})
		}
	}
	c := a.Conflict
	if c == nil {
		return
	}
	add := func(key, what string, to ...Setting) {
		b.Eases = append(b.Eases, Ease{key, "Leave " + what + " open.", to})
	}
	for _, i := range c.High {
		switch row := j.rows[i]; row.key {
		case "mean_age", "fines", "moisture", "metal":
			add(row.key, "the "+row.name, open(row.key))
		case "melt_flow":
			add(row.key, "the greatest melt flow rate", open("flow_high"))
		}
	}
	for _, i := range c.Low {
		if j.rows[i].key == "melt_flow" {
			add("melt_flow", "the least melt flow rate", open("flow_low"))
		}
	}
	if len(c.Curve) > 0 {
		add("colour", "the colour", open("rgb"), open("within"))
	}
	if c.Most {
		more := 2 * j.problem.Most
		b.Eases = append(b.Eases, Ease{"most_lots", fmt.Sprintf("Allow %d lots.", more), []Setting{set("most_lots", float64(more))}})
	}
	if c.Small && j.req.Least > j.req.Step {
		b.Eases = append(b.Eases, Ease{"least", fmt.Sprintf("Weigh as little as %s of a lot.", quantity.Mass.Plain(j.req.Step)), []Setting{set("least", j.req.Step)}})
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
