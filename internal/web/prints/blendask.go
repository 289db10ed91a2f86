package prints

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
	"hopperful/internal/web/waiting"
	"hopperful/plan/blend"
	"hopperful/quantity"
	"hopperful/shop"
)

// typedNeed stands for the need in the address of a blend nobody wrote a need
// down for: its mass and polymer are in the address too.
const typedNeed = "-"

// blendAsk asks everything a recipe may be sought by. The name of a field is what
// an [blend.Ease] calls it.
func blendAsk(d *desk.Desk, typed bool, word string) forms.Sheet {
	orders := []forms.Option{{Value: string(blend.OldFirst), Say: "form.old_stock_first"}, {Value: string(blend.Cheapest), Say: "form.cheapest"}, {Value: string(blend.NearestColour), Say: "form.nearest_colour"}}
	main := []forms.Field{
		{Path: "order", Label: "form.sought_first", As: forms.AsSelect, Choices: orders, First: string(blend.OldFirst)},
		{Path: "tinted", Label: "form.hold_it_to_a_colour", As: forms.AsCheck},
		{Path: "rgb", Label: "form.the_colour_wanted", As: forms.AsColour, First: d.Query("rgb")},
		dialled("within", "form.colour_difference_most", quantity.Number, "", "5", 0.5, 20, "form.colour_difference_help"),
		dialled("most_lots", "form.lots_at_most", quantity.Number, "", "4", 1, 8, ""),
		dialled("mean_age", "form.mean_passes_at_most", quantity.Number, "", "form.open_limit", 0, 8, ""),
		dialled("oldest", "form.passes_most", quantity.Number, "", "form.open_limit", 0, 20, ""),
		dialled("fines", "form.dust_at_most", quantity.Share, "%", "form.open_limit", 0.1, 20, ""),
	}
	if word != "" {
		main = slices.Insert(main, 1, forms.Field{Path: "any", Label: d.Say.Line("form.any_colour", fact.Name("colour", word)), As: forms.AsCheck})
	}
	if typed {
		main = append([]forms.Field{
			forms.Amount("mass_kg", "form.how_much", quantity.Mass, "g", "").Needed(),
			{Path: "polymer", Label: "form.plastic", As: forms.AsText, Suggest: d.Materials().Names()},
		}, main...)
	}
	limits := []forms.Field{
		dialled("flow_low", "form.melt_flow_at_least", quantity.MeltFlow, "g/10 min", "form.open_limit", 1, 80, ""),
		dialled("flow_high", "form.melt_flow_at_most", quantity.MeltFlow, "g/10 min", "form.open_limit", 1, 80, ""),
		dialled("moisture", "form.water_after_drying_at_most", quantity.Share, "%", "form.open_limit", 0.005, 1, ""),
		dialled("metal", "form.metal_at_most", quantity.Share, "%", "form.open_limit", 0.001, 0.1, ""),
		{Path: "sturdy", Label: "form.the_part_has_to_hold", As: forms.AsCheck, Help: "form.unlike_plastics_help"},
	}
	weighing := []forms.Field{
		dialled("step", "form.weighed_in_steps_of", quantity.Mass, "g", "", 0.1, 100, "form.scale_least_help"),
		dialled("least", "form.least_of_a_lot", quantity.Mass, "g", "", 0.5, 500, "form.scale_trust_help"),
		dialled("reserve", "form.more_than_the_part_weighs", quantity.Share, "%", "", 0, 50, "form.extra_mass_help"),
	}
	if !typed {
		weighing = append(weighing, forms.Field{Path: "polymer", Label: "form.another_polymer", As: forms.AsText, Suggest: d.Materials().Names()})
	}
	lots := []forms.Field{
		forms.Text("only", "form.only_these_lots", "form.lots_wanted_help"),
		forms.Text("without", "form.leave_out", "form.lots_kept_out_help"),
		whyAsk(d),
	}
	return forms.Sheet{Submit: "form.ask_again", Groups: []forms.Group{{Fields: main}, {Title: "form.melt_flow_water_metal", Folded: true, Fields: limits},
		{Title: "form.how_it_is_weighed", Folded: true, Fields: weighing}, {Title: "form.which_lots", Folded: true, Fields: lots}}}
}

// MostChosen is how many lots are offered one by one; a longer list is slower to
// look through than a mark is to type, and goes along with every answer. Judgement.
const MostChosen = 60

// whyAsk asks for a lot to say of why it is not in the recipe.
func whyAsk(d *desk.Desk) forms.Field {
	lots := d.LotOptions("form.ask_for_no_lot", shop.Regrind, shop.Virgin, shop.Blend)
	if len(lots) > MostChosen {
		return forms.Text("why", "form.left_out_question", "form.its_mark_such_as_r4")
	}
	return forms.Field{Path: "why", Label: "form.left_out_question", As: forms.AsSelect, Choices: lots}
}

// dialled asks for a quantity that can be moved with a finger.
func dialled(path, label string, kind quantity.Kind, unit, hint string, low, high float64, help string) forms.Field {
	return forms.Field{Path: path, Label: label, As: forms.AsAmount, Kind: kind, Unit: unit, Hint: hint, Dial: &forms.Dial{Low: low, High: high}, Help: help}
}

// blendAsked is a question about a blend, as its address asks it.
type blendAsked struct {
	forms.Asked
	req   blend.Request
	typed bool
	word  string // of the need's colour
	pick  int    // which of the recipes is looked at
	base  string // address of the page without its question
}

// readBlend reads /blend/NEED?order=…; false when the answer is already given.
func readBlend(s *site.Site, w http.ResponseWriter, r *http.Request, d *desk.Desk) (blendAsked, bool) {
	name := r.PathValue("need")
	need, ok := d.State.Need(name)
	if !ok && name != typedNeed {
		s.Fail(w, r, site.Fault{Status: http.StatusNotFound, Say: d.Say.Line("page.no_need", fact.Name("need", name)), Hint: d.Say.Line("page.needs_or_type")})
		return blendAsked{}, false
	}
	q := blendAsked{typed: !ok, base: address.Blend(name)}
	q.word = need.Colour
	answers := r.URL.Query()
	if need.RGB != "" && !answers.Has("rgb") { // it says what it shall look like
		answers.Set("rgb", need.RGB)
		answers.Set("tinted", "yes")
	}
	q.Asked = forms.Read(d.Say, answers, q.sheet(d))
	if q.typed {
		need = shop.Need{Name: d.Say.Line("page.what_you_typed"), From: "typed", Mass: q.Number("mass_kg"), Polymer: Known(d, q.Words["polymer"])}
		if need.Mass == nil && len(q.In.Wrong) == 0 {
			q.In.Refuse("mass_kg", "form.this_is_needed", "form.need_mass_advice")
		}
	}
	q.request(d, need)
	if n, err := strconv.Atoi(d.Query("pick")); err == nil && n > 0 {
		q.pick = n
	}
	return q, true
}

// sheet is what this question is asked with.
func (q *blendAsked) sheet(d *desk.Desk) forms.Sheet { return blendAsk(d, q.typed, q.word) }

// request turns the answers into the question.
func (q *blendAsked) request(d *desk.Desk, need shop.Need) {
	q.req = blend.Request{Need: need, Order: blend.Order(q.Words["order"]), WithinDE: q.Number("within"), Reserve: q.Number("reserve"),
		MeanAge: q.Number("mean_age"), OldestAge: q.Number("oldest"), Fines: q.Number("fines"), Moisture: q.Number("moisture"), Metal: q.Number("metal"),
		FlowLow: q.Number("flow_low"), FlowHigh: q.Number("flow_high"), Sturdy: q.In.Typed("sturdy") != "", Now: d.Now.Truncate(5 * time.Minute)}
	if q.In.Typed("any") != "" {
		q.req.Need.Colour = ""
	}
	if !q.typed {
		q.req.Polymer = Known(d, q.Words["polymer"])
	}
	if q.In.Typed("tinted") != "" || q.req.Order == blend.NearestColour {
		q.req.RGB = q.Words["rgb"]
	} else {
		q.req.WithinDE, q.req.Need.RGB = nil, ""
	}
	if v := q.Number("step"); v != nil {
		q.req.Step = *v
	}
	if v := q.Number("least"); v != nil {
		q.req.Least = *v
	}
	if v := q.Number("most_lots"); v != nil {
		q.req.MostLots = int(math.Round(math.Max(-1, math.Min(*v, 1e4))))
	}
	q.req.Lots = q.lots("only")
	q.req.Without = q.lots("without")
	q.req.WhyNot = q.lots("why")
}

// lots reads marks of lots out of an answer.
func (q *blendAsked) lots(path string) []shop.LotID {
	var ids []shop.LotID
	for part := range strings.FieldsFuncSeq(q.Words[path], func(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '\n' }) {
		id, err := shop.ParseLot(part)
		if err != nil {
			say, hint := forms.Said(q.In.Say, err)
			q.In.Refuse(path, say, hint)
			return nil
		}
		ids = append(ids, id)
	}
	return ids
}

// passing are the parts of an address that are not the question.
var passing = []string{"done", "thorough", "pick", "take", "put", "lot", "shows"}

// with is the address that asks the same with something else.
func (q *blendAsked) with(set map[string]string) string {
	v := url.Values{}
	for k, list := range q.In.Values {
		if len(list) > 0 && list[0] != "" && !slices.Contains(passing, k) {
			v.Set(k, list[0])
		}
	}
	for k, to := range set {
		if to == "" {
			v.Del(k)
		} else {
			v.Set(k, to)
		}
	}
	if len(v) == 0 {
		return q.base
	}
	return q.base + "?" + v.Encode()
}

// eased is the address that asks with the settings of an ease.
func (q *blendAsked) eased(sh forms.Sheet, e blend.Ease) string {
	set := map[string]string{}
	for _, x := range e.Set {
		if x.Value == nil {
			if x.Field != "rgb" {
				set[x.Field] = ""
			} else { // the colour stays beside the box, which is no longer ticked
				set["tinted"] = ""
				if q.req.Order == blend.NearestColour {
					set["order"] = string(blend.OldFirst)
				}
			}
			continue
		}
		sh.Fields(func(f forms.Field) {
			if f.Path == x.Field {
				set[f.Path] = f.Kind.Typed(*x.Value, f.Unit)
			}
		})
	}
	return q.with(set)
}

// askBlend looks for the next best recipes too, and for what relaxing each limit
// would give; that takes longer than a page may.
func askBlend(s *site.Site, st *shop.State, q blendAsked) *waiting.Job {
	key := fmt.Sprintf("%d|%s|%s|%s", st.Newest().ID, q.req.Need.Name, q.req.Now, q.Key())
	return s.Slow.Ask("blend", key, func() (any, error) {
		h, err := s.ShelfOf(st)
		if err != nil {
			return nil, err
		}
		return h.Find(context.Background(), q.req) // whoever asks again finds it
	})
}
