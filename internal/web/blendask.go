package web

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
	"hopperful/plan/blend"
	"hopperful/quantity"
	"hopperful/shop"
)

// typedNeed stands for the need in the address of a blend nobody wrote a need
// down for: its mass and polymer are in the address too.
const typedNeed = "-"

// blendPath is the page of the recipe for a need.
func blendPath(need string) string { return "/blend/" + pathSegment(need) }

// blendAsk asks everything a recipe may be sought by. The name of a field is what
// an [blend.Ease] calls it.
func blendAsk(d *desk, typed bool, word string) sheet {
	orders := make([]option, 0, 3)
	for _, o := range blend.Orders() {
		orders = append(orders, option{string(o), string(o)})
	}
	main := []field{
		{Path: "order", Label: "Sought first", As: asSelect, Choices: orders, First: string(blend.OldFirst)},
		{Path: "tinted", Label: "Hold it to a colour", As: asCheck},
		{Path: "rgb", Label: "The colour wanted", As: asColour, First: d.query("rgb")},
		dialled("within", "How far off the colour may be", quantity.Number, "", "5", 0.5, 20, "Colour difference, CIEDE2000: 1 is hardly seen, 5 is plainly another colour."),
		dialled("most_lots", "Lots at most", quantity.Number, "", "4", 1, 8, ""),
		dialled("mean_age", "Mean passes at most", quantity.Number, "", "open", 0, 8, ""),
		dialled("oldest", "Passes of the oldest twentieth at most", quantity.Number, "", "open", 0, 20, ""),
		dialled("fines", "Dust at most", quantity.Share, "%", "open", 0.1, 20, ""),
	}
	if word != "" {
		main = slices.Insert(main, 1, field{Path: "any", Label: "Lots of any colour, not only " + word, As: asCheck})
	}
	if typed {
		main = append([]field{
			amount("mass_kg", "How much", quantity.Mass, "g", "").must(),
			{Path: "polymer", Label: "Polymer", As: asText, Suggest: d.materials().Names()},
		}, main...)
	}
	limits := []field{
		dialled("flow_low", "Melt flow at least", quantity.MeltFlow, "g/10 min", "open", 1, 80, ""),
		dialled("flow_high", "Melt flow at most", quantity.MeltFlow, "g/10 min", "open", 1, 80, ""),
		dialled("moisture", "Water after drying at most", quantity.Share, "%", "open", 0.005, 1, ""),
		dialled("metal", "Metal at most", quantity.Share, "%", "open", 0.001, 0.1, ""),
		{Path: "sturdy", Label: "The part has to hold", As: asCheck, Help: "Other plastics are then held to the stricter limit of the table of pairs."},
	}
	weighing := []field{
		dialled("step", "Weighed in steps of", quantity.Mass, "g", "", 0.1, 100, "A scoop, say. Empty takes a digit of the scale."),
		dialled("least", "Least of a lot", quantity.Mass, "g", "", 0.5, 500, "Empty takes ten digits of the scale."),
		dialled("reserve", "More than the part weighs", quantity.Share, "%", "", 0, 50, "For purge, start-up and handling. Empty takes what the print wants in nine of ten cases."),
	}
	if !typed {
		weighing = append(weighing, field{Path: "polymer", Label: "Another polymer", As: asText, Suggest: d.materials().Names()})
	}
	lots := []field{
		text("only", "Only these lots", "Their marks, such as R1 R4. Empty takes whatever fits."),
		text("without", "Leave out", "Marks of lots that shall stay where they are."),
		whyAsk(d),
	}
	return sheet{Submit: "Ask again", Groups: []group{{Fields: main}, {Title: "Melt flow, water, metal", Folded: true, Fields: limits},
		{Title: "How it is weighed", Folded: true, Fields: weighing}, {Title: "Which lots", Folded: true, Fields: lots}}}
}

// mostChosen is how many lots are offered one by one; a longer list is slower to
// look through than a mark is to type, and goes along with every answer. Judgement.
const mostChosen = 60

// whyAsk asks for a lot to say of why it is not in the recipe.
func whyAsk(d *desk) field {
	lots := d.lotOptions("ask for no lot", shop.Regrind, shop.Virgin, shop.Blend)
	if len(lots) > mostChosen {
		return text("why", "Why is this lot not in it?", "Its mark, such as R4.")
	}
	return field{Path: "why", Label: "Why is this lot not in it?", As: asSelect, Choices: lots}
}

// dialled asks for a quantity that can be moved with a finger.
func dialled(path, label string, kind quantity.Kind, unit, hint string, low, high float64, help string) field {
	return field{Path: path, Label: label, As: asAmount, Kind: kind, Unit: unit, Hint: hint, Dial: &dial{low, high}, Help: help}
}

// blendAsked is a question about a blend, as its address asks it.
type blendAsked struct {
	asked
	req   blend.Request
	typed bool
	word  string // of the need's colour
	pick  int    // which of the recipes is looked at
	base  string // address of the page without its question
}

// readBlend reads /blend/NEED?order=…; false when the answer is already given.
func (s *server) readBlend(w http.ResponseWriter, r *http.Request, d *desk) (blendAsked, bool) {
	name := r.PathValue("need")
	need, ok := d.state.Need(name)
	if !ok && name != typedNeed {
		s.fail(w, r, fault{http.StatusNotFound, d.say.Line("page.no_need", fact.Name("need", name)), d.say.Line("page.needs_or_type")})
		return blendAsked{}, false
	}
	q := blendAsked{typed: !ok, base: blendPath(name)}
	q.word = need.Colour
	answers := r.URL.Query()
	if need.RGB != "" && !answers.Has("rgb") { // it says what it shall look like
		answers.Set("rgb", need.RGB)
		answers.Set("tinted", "yes")
	}
	q.asked = readQuery(d.say, answers, q.sheet(d))
	if q.typed {
		need = shop.Need{Name: d.say.Line("page.what_you_typed"), From: "typed", Mass: q.number("mass_kg"), Polymer: known(d, q.words["polymer"])}
		if need.Mass == nil && len(q.in.Wrong) == 0 {
			q.in.refuse("mass_kg", "This is needed.", "Type a mass such as 240 g.")
		}
	}
	q.request(d, need)
	if n, err := strconv.Atoi(d.query("pick")); err == nil && n > 0 {
		q.pick = n
	}
	return q, true
}

// sheet is what this question is asked with.
func (q *blendAsked) sheet(d *desk) sheet { return blendAsk(d, q.typed, q.word) }

// request turns the answers into the question.
func (q *blendAsked) request(d *desk, need shop.Need) {
	q.req = blend.Request{Need: need, Order: blend.Order(q.words["order"]), WithinDE: q.number("within"), Reserve: q.number("reserve"),
		MeanAge: q.number("mean_age"), OldestAge: q.number("oldest"), Fines: q.number("fines"), Moisture: q.number("moisture"), Metal: q.number("metal"),
		FlowLow: q.number("flow_low"), FlowHigh: q.number("flow_high"), Sturdy: q.in.typed("sturdy") != "", Now: d.now.Truncate(5 * time.Minute)}
	if q.in.typed("any") != "" {
		q.req.Need.Colour = ""
	}
	if !q.typed {
		q.req.Polymer = known(d, q.words["polymer"])
	}
	if q.in.typed("tinted") != "" || q.req.Order == blend.NearestColour {
		q.req.RGB = q.words["rgb"]
	} else {
		q.req.WithinDE, q.req.Need.RGB = nil, ""
	}
	if v := q.number("step"); v != nil {
		q.req.Step = *v
	}
	if v := q.number("least"); v != nil {
		q.req.Least = *v
	}
	if v := q.number("most_lots"); v != nil {
		q.req.MostLots = int(math.Round(math.Max(-1, math.Min(*v, 1e4))))
	}
	q.req.Lots = q.lots("only")
	q.req.Without = q.lots("without")
	q.req.WhyNot = q.lots("why")
}

// lots reads marks of lots out of an answer.
func (q *blendAsked) lots(path string) []shop.LotID {
	var ids []shop.LotID
	for part := range strings.FieldsFuncSeq(q.words[path], func(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '\n' }) {
		id, err := shop.ParseLot(part)
		if err != nil {
			say, hint := saidIn(q.in.say, err)
			q.in.refuse(path, say, hint)
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
	for k, list := range q.in.Values {
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
func (q *blendAsked) eased(sh sheet, e blend.Ease) string {
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
		sh.fields(func(f field) {
			if f.Path == x.Field {
				set[f.Path] = f.Kind.Typed(*x.Value, f.Unit)
			}
		})
	}
	return q.with(set)
}

// shelfOf is what is known of the stock of a state, reckoned once for every
// question asked of that state.
func (s *server) shelfOf(st *shop.State) (*blend.Shelf, error) {
	s.shelfMu.Lock()
	defer s.shelfMu.Unlock()
	if s.shelf != nil && s.shelfState == st {
		return s.shelf, nil
	}
	var err error
	var h *blend.Shelf
	if s.shelf == nil {
		h, err = blend.NewShelf(st)
	} else {
		h, err = s.shelf.After(st)
	}
	if err == nil {
		s.shelf, s.shelfState = h, st
	}
	return h, err
}

// askBlend looks for the next best recipes too, and for what relaxing each limit
// would give; that takes longer than a page may.
func (s *server) askBlend(st *shop.State, q blendAsked) *job {
	key := fmt.Sprintf("%d|%s|%s|%s", st.Newest().ID, q.req.Need.Name, q.req.Now, q.key())
	return s.slow.ask("blend", key, func() (any, error) {
		h, err := s.shelfOf(st)
		if err != nil {
			return nil, err
		}
		return h.Find(context.Background(), q.req) // whoever asks again finds it
	})
}
