package web

import (
	"fmt"
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/plan/blend"
	"hopperful/plan/traceability"
	"hopperful/quantity"
)

// blendView is the page of a recipe.
type blendView struct {
	blend.Blending
	Say      string
	More     string
	Thorough bool // looked for the next best ones too
	Spoils   []findingView
	Shown    *recipeView // the recipe looked at, or the nearest blend
	IsBest   bool
	Held     []heldView
	Numbers  []figView
	Others   []recipeView
	Eased    []link
	Left     []leftView
	Answers  []leftView
	Warn     []warnView
	Ask      formView
	MorePath string // the same question, asked thoroughly
	Act      link
	Sheet    string
	JSON     string
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
	Fill     rgb
	Dark     bool // its label has to be light
	ToCome   bool // not weighed in yet
	Grams    string
	Percent  string
	LeftSays string
	Without  string // asks without it
}

// shadeView is a colour with its words.
type shadeView struct {
	Say, Name string
	Fill      string
}

// heldView is a limit as the recipe keeps it.
type heldView struct {
	Figure figView
	Binds  bool
	Relax  string
	To     string // asks with it relaxed
}

// leftView is a lot that is not in it.
type leftView struct {
	answer.Aside
	Remedied *link
}

func (d *desk) viewBlend(b blend.Blending, q blendAsked) blendView {
	v := blendView{Blending: b, MorePath: q.with(map[string]string{"thorough": "yes"}), Warn: gather(d.say, b.Cautions), IsBest: q.pick == 0 || q.pick >= len(b.Recipes)}
	v.Say, v.More = firstSentence(b.Answer)
	v.Spoils = viewFindings(d.say, d.say.Findings(b.Spoilers))
	best := 0
	if !v.IsBest {
		best = q.pick
	}
	for i, r := range b.Recipes {
		one := d.viewRecipe(r, b, q)
		if i > 0 {
			one.To = q.with(map[string]string{"pick": fmt.Sprint(i)})
		} else {
			one.To = q.with(nil)
		}
		if i == best {
			v.Shown, v.Numbers = &one, viewFigures(r.Figures)
			v.Sheet = one.Sheet
			v.Act = link{one.Weighing, "Weigh it step by step"}
			continue
		}
		v.Others = append(v.Others, one)
	}
	if !v.IsBest {
		v.Say, v.More = "Blend "+v.Shown.Say+" for "+v.Shown.Mass+" of "+b.Polymer+".", "It keeps every limit; another recipe is better by the order asked for."
	}
	if b.Nearest != nil {
		one := d.viewRecipe(*b.Nearest, b, q)
		v.Shown, v.Numbers = &one, viewFigures(b.Nearest.Figures)
	}
	if !b.Possible {
		v.Act = link{"/record/take-in", "Take in material"}
	}
	d.viewLimits(&v, b, q)
	for _, a := range b.Aside {
		v.Left = append(v.Left, leftView{a, remedyOf(a)})
	}
	for _, a := range b.WhyNot {
		v.Answers = append(v.Answers, leftView{a, remedyOf(a)})
	}
	return v
}

// viewLimits pairs each limit with what relaxing it gives; what is no limit of
// the recipe stands alone.
func (d *desk) viewLimits(v *blendView, b blend.Blending, q blendAsked) {
	sh := q.sheet(d)
	placed := map[string]bool{}
	if v.IsBest {
		for _, l := range b.Limits {
			h := heldView{Figure: viewFigure(l.Figure), Binds: l.Binds, Relax: l.Relax}
			if i := slices.IndexFunc(b.Eases, func(e blend.Ease) bool { return e.Limit == l.Key }); i >= 0 {
				h.To, placed[l.Key] = q.eased(sh, b.Eases[i]), true
			}
			v.Held = append(v.Held, h)
		}
	}
	if !b.Possible && q.req.Need.Colour != "" && q.req.RGB == "" {
		v.Eased = append(v.Eased, link{q.with(map[string]string{"any": "yes"}), "Take lots of any colour, not only " + q.req.Need.Colour + "."})
	}
	for _, e := range b.Eases {
		if !placed[e.Limit] {
			v.Eased = append(v.Eased, link{q.eased(sh, e), e.Say})
		}
	}
}

func (d *desk) viewRecipe(r blend.Recipe, b blend.Blending, q blendAsked) recipeView {
	v := recipeView{Mass: quantity.Mass.Plain(r.Mass.Value), Breaks: r.Breaks}
	x := 0.0
	var take, words []string
	for _, p := range r.Portions {
		c := d.paintOf(p.Lot)
		one := portionView{Portion: p, X: 1000 * x, Wide: 1000 * p.Share, Fill: c, Dark: int(c.r)*3+int(c.g)*6+int(c.b) < 1280, Grams: quantity.Mass.Plain(p.Mass.Value),
			Percent: quantity.Share.Rough(p.Share), LeftSays: grams(p.Left) + " of it are left"}
		if p.All {
			one.LeftSays = "it is used up"
		}
		one.Without = q.with(map[string]string{"without": strings.TrimSpace(q.words["without"] + " " + string(p.Lot))})
		x += p.Share
		v.Parts = append(v.Parts, one)
		take = append(take, inAddress(blend.Weighed{{Lot: p.Lot, Mass: p.Mass.Value}}))
		words = append(words, one.Grams+" of "+string(p.Lot))
	}
	v.Say = answer.List(words)
	shade := func(say string, s *traceability.Shade) {
		if s != nil {
			v.Shades = append(v.Shades, shadeView{say, s.Name, s.RGB})
		}
	}
	shade("wanted", b.Wanted)
	shade("melted well", r.Mixed)
	shade("side by side", r.Unmixed)
	for _, f := range r.Figures {
		if f.Key == "price" || f.Key == "stored" || f.Key == "colour_mixed" {
			v.Told = strings.TrimPrefix(v.Told+"; "+d.say.Word(f.Name)+" "+f.Shown(), "; ")
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
