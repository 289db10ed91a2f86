package prints

import (
	"fmt"
	"slices"
	"strings"

	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/drawing"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/plan/blend"
	"hopperful/plan/traceability"
	"hopperful/quantity"
)

// blendView is the page of a recipe: the answer as every page lays it out, with what
// only this one draws and offers.
type blendView struct {
	figures.Document
	Possible bool
	Polymer  string
	More     string
	Thorough bool        // looked for the next best ones too
	Shown    *recipeView // the recipe looked at, or the nearest blend
	IsBest   bool
	Held     []heldView
	Recipes  []recipeView // the others
	Eased    []address.Link
	Left     []leftView
	Why      []leftView // answers for the lots asked about
	Notes    []string
	Ask      forms.View
	MorePath string // the same question, asked thoroughly
	Act      address.Link
	Sheet    string
}

// recipeView is a blend as a bar in proportion, and its colours.
type recipeView struct {
	Parts    []portionView
	Mass     string
	Shades   []shadeView
	To       string // looks at it
	Say      string // "120 g of R1 and 80 g of R3"
	Breaks   []string
	Told     string // colour and price in a few words
	Sheet    string
	Weighing string
}

// portionView is a lot in the bar.
type portionView struct {
	blend.Portion
	X, Wide  float64 // of 1000
	Fill     drawing.RGB
	Dark     bool // its label has to be light
	ToCome   bool // not weighed in yet
	Grams    string
	Percent  string
	LeftSays string
	Without  string // asks without it
	Why      string
}

// shadeView is a colour with its words.
type shadeView struct {
	Say, Name string
	Fill      string
}

// heldView is a limit as the recipe keeps it.
type heldView struct {
	Figure figures.View
	Binds  bool
	Relax  string
	To     string // asks with it relaxed
}

func viewBlend(d *desk.Desk, b blend.Blending, q blendAsked) blendView {
	v := blendView{Possible: b.Possible, Polymer: b.Polymer, MorePath: q.with(map[string]string{"thorough": "yes"}), IsBest: q.pick == 0 || q.pick >= len(b.Recipes)}
	if b.Says.Empty() { // nothing was asked
		return v
	}
	v.Document = figures.Laid(d.Say, b.Document())
	v.Notes = d.Say.All(b.Notes)
	best := 0
	if !v.IsBest {
		best = q.pick
	}
	for i, r := range b.Recipes {
		one := viewRecipe(d, r, b, q)
		if i > 0 {
			one.To = q.with(map[string]string{"pick": fmt.Sprint(i)})
		} else {
			one.To = q.with(nil)
		}
		if i == best {
			v.Shown, v.Figures = &one, figures.All(d.Say, r.Figures)
			v.Sheet = one.Sheet
			v.Act = address.Link{To: one.Weighing, Say: d.Say.Line("page.weigh_stepwise")}
			continue
		}
		v.Recipes = append(v.Recipes, one)
	}
	if !v.IsBest {
		v.Answer, v.More = d.Say.Say(b.Recipes[best].Says(b.Polymer)), d.Say.Line("page.another_is_better")
	}
	if b.Nearest != nil {
		one := viewRecipe(d, *b.Nearest, b, q)
		v.Shown = &one
	}
	if !b.Possible {
		v.Act = address.Link{To: "/record/take-in", Say: d.Say.Line("go.take_in")}
	}
	viewLimits(d, &v, b, q)
	v.Left, v.Why = lefts(d, b.Aside), lefts(d, b.WhyNot)
	return v
}

// viewLimits pairs each limit with what relaxing it gives; what is no limit of
// the recipe stands alone.
func viewLimits(d *desk.Desk, v *blendView, b blend.Blending, q blendAsked) {
	sh := q.sheet(d)
	placed := map[string]bool{}
	if v.IsBest {
		for _, l := range b.Limits {
			h := heldView{Figure: figures.Of(d.Say, l.Figure), Binds: l.Binds, Relax: d.Say.Say(l.Relax)}
			if i := slices.IndexFunc(b.Eases, func(e blend.Ease) bool { return e.Limit == l.Key }); i >= 0 {
				h.To, placed[l.Key] = q.eased(sh, b.Eases[i]), true
			}
			v.Held = append(v.Held, h)
		}
	}
	if !b.Possible && q.req.Need.Colour != "" && q.req.RGB == "" {
		v.Eased = append(v.Eased, address.Link{To: q.with(map[string]string{"any": "yes"}), Say: d.Say.Line("page.any_colour", fact.Name("colour", q.req.Need.Colour))})
	}
	for _, e := range b.Eases {
		if !placed[e.Limit] {
			v.Eased = append(v.Eased, address.Link{To: q.eased(sh, e), Say: d.Say.Say(e.Says)})
		}
	}
}

func viewRecipe(d *desk.Desk, r blend.Recipe, b blend.Blending, q blendAsked) recipeView {
	plain := func(kg float64) string { return d.Say.Number(quantity.Mass.Plain(kg)) }
	v := recipeView{Mass: plain(r.Mass.Value), Breaks: d.Say.All(r.Breaks), Say: d.Say.Fact(r.Parts())}
	x := 0.0
	var take []string
	for _, p := range r.Portions {
		c := d.PaintOf(p.Lot)
		one := portionView{Portion: p, X: 1000 * x, Wide: 1000 * p.Share, Fill: c, Dark: c.Dark(), Grams: plain(p.Mass.Value),
			Percent: d.Say.Number(quantity.Share.Rough(p.Share)), LeftSays: d.Say.Line("page.are_left", fact.Weighed("mass", p.Left)), Why: d.Say.Say(p.Why)}
		if p.All {
			one.LeftSays = d.Say.Line("blend.used_up")
		}
		one.Without = q.with(map[string]string{"without": strings.TrimSpace(q.Words["without"] + " " + string(p.Lot))})
		x += p.Share
		v.Parts = append(v.Parts, one)
		take = append(take, inAddress(blend.Weighed{{Lot: p.Lot, Mass: p.Mass.Value}}))
	}
	shade := func(say string, s *traceability.Shade) {
		if s != nil {
			v.Shades = append(v.Shades, shadeView{say, s.Name, s.RGB})
		}
	}
	shade(d.Say.Line("page.shade_wanted"), b.Wanted)
	shade(d.Say.Line("page.shade_mixed"), r.Mixed)
	shade(d.Say.Line("page.shade_unmixed"), r.Unmixed)
	for _, f := range r.Figures {
		if f.Key == "price" || f.Key == "stored" || f.Key == "colour_mixed" {
			v.Told = strings.TrimPrefix(v.Told+"; "+d.Say.Word(f.Name)+" "+d.Say.Number(f.Shown()), "; ")
		}
	}
	taken := map[string]string{"take": strings.Join(take, ",")}
	v.Sheet, v.Weighing = under(q.with(taken), "sheet"), under(q.with(taken), "weigh")
	return v
}

// under is a page below that of an address, asked the same.
func under(address, page string) string {
	path, query, asked := strings.Cut(address, "?")
	if asked {
		query = "?" + query
	}
	return path + "/" + page + query
}
