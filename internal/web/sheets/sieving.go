package sheets

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/plan/sieving"
	"hopperful/process/sieve"
	"hopperful/quantity"
	"hopperful/shop"
)

// A stack is the sieves one after the other, as the sheet of a sieving asks for
// them: from the address (?series=…, or ?own=4 2.8 2 mm, or both the series and
// ?openings=…), or as they stood the last time.
type stack struct {
	Series   shop.Series
	holes    shop.Holes
	Openings []float64 // coarsest first [m]
	last     *shop.Sieved
	used     []int // which of them a mass was written for
}

// standards pairs the shop's names of series with the sieves of that series.
var standards = []struct {
	series shop.Series
	of     sieve.Standard
	say    string
}{
	{shop.R20x3, sieve.R20x3, "ISO 3310-1, R 20/3: 8; 5.6; 4; 2.8; 2 mm …"},
	{shop.R40x3, sieve.R40x3, "ISO 3310-1, R 40/3: 8; 6.7; 5.6; 4.75; 4 mm …"},
	{shop.R20, sieve.R20, "ISO 3310-1, R 20: 8; 7.1; 6.3; 5.6; 5 mm …"},
	{shop.ASTME11, sieve.ASTME11, "ASTM E11: No. 4, 5, 6, 7, 8 …"},
}

// seriesOptions are the answers of the choice of a series.
func seriesOptions(p *say.Printer) []forms.Option {
	var opts []forms.Option
	for _, s := range standards {
		opts = append(opts, forms.Option{Value: string(s.series), Say: p.Decimal(s.say)})
	}
	return append(opts, forms.Option{Value: string(shop.OwnSet), Say: "form.own_sieves_option"})
}

// mostOwn bounds the sieves of one's own an address may name.
const mostOwn = 40

// StackAsked is the stack the sheet is to ask for.
func StackAsked(d *desk.Desk) stack {
	k := stack{Series: shop.Series(d.Query("series")), holes: shop.Holes(d.Query("holes"))}
	if own := d.Query("own"); k.Series == shop.OwnSet || k.Series == "" && own != "" {
		k.Series, k.Openings = shop.OwnSet, openingsIn(own)
	} else {
		k.Openings = openingsIn(d.Query("openings"))
	}
	if !slices.ContainsFunc(seriesOptions(d.Say), func(o forms.Option) bool { return o.Value == string(k.Series) }) {
		k.Series = ""
	}
	if !slices.ContainsFunc(holeForms, func(o forms.Option) bool { return o.Value == string(k.holes) }) {
		k.holes = ""
	}
	k.last = lastSieving(d)
	if k.Series == "" && k.last != nil {
		k.Series, k.holes = k.last.Series, k.last.Holes
		for _, x := range k.last.Sieves {
			k.Openings = append(k.Openings, x.Opening)
		}
	}
	if k.Series == "" {
		k.Series = shop.R20x3
		for _, x := range sieving.UsualStack(d.State, shop.LotID(d.Query("lot"))) {
			k.Openings = append(k.Openings, x.Opening)
		}
	}
	if k.holes == "" {
		k.holes = shop.WovenWire
	}
	for _, s := range standards {
		if s.series == k.Series && len(k.Openings) == 0 {
			for _, x := range sieve.Openings(s.of) {
				k.Openings = append(k.Openings, x.Opening)
			}
		}
	}
	return k
}

// openingsIn reads "4 2.8 2 mm", falling, each once.
func openingsIn(typed string) []float64 {
	var list []float64
	words := strings.FieldsFunc(typed, func(r rune) bool { return r == ' ' || r == ';' || r == '\n' || r == '\t' })
	for _, w := range words[:min(len(words), mostOwn)] {
		if v, err := quantity.Length.ParseOr(w, "mm"); err == nil && v > 0 && (len(list) == 0 || v < list[len(list)-1]) {
			list = append(list, v)
		}
	}
	return list
}

// lastSieving is the newest sieve analysis of the shop, nil when there is none.
func lastSieving(d *desk.Desk) *shop.Sieved {
	for _, r := range d.State.Records.LatestOf(&shop.Sieved{}) {
		if b, ok := r.Body.(*shop.Sieved); ok {
			return b
		}
	}
	return nil
}

// StackQuery is what the address asks for the stack of a record with, for its
// correction.
func StackQuery(b *shop.Sieved) url.Values {
	q := url.Values{"series": {string(b.Series)}, "holes": {string(b.Holes)}}
	name := "openings"
	if b.Series == shop.OwnSet {
		name = "own"
	}
	var all []string
	for _, x := range b.Sieves {
		all = append(all, strconv.FormatFloat(x.Opening*1e3, 'g', 12, 64))
	}
	q.Set(name, strings.Join(all, " "))
	return q
}

// Sent is the address of the sheet with its stack in it: the masses are sent
// beside the sieves they were typed for, whatever was sieved in the meantime.
func (k *stack) Sent(u *url.URL) string {
	b := &shop.Sieved{Series: k.Series, Holes: k.holes}
	for _, o := range k.Openings {
		b.Sieves = append(b.Sieves, shop.OnSieve{Opening: o})
	}
	q := u.Query()
	for name, v := range StackQuery(b) {
		q[name] = v
	}
	return u.Path + "?" + q.Encode()
}

// Sieve asks for what lies on each sieve: one number a sieve.
func Sieve(d *desk.Desk) forms.Sheet {
	k := StackAsked(d)
	sh := forms.Sheet{
		Kind: "sieved", Title: "form.sieve_a_sample", Submit: "form.record_the_sieving", Place: "stock", Timed: true, Stack: &k,
		Intro: "form.stack_intro",
		After: func(_ *shop.State, r shop.Record) string { return address.Sieving(r.Body.(*shop.Sieved).Lot, r.ID) },
		Shape: func(tree map[string]any) { usedSieves(tree, &k) },
	}
	sh.Groups = []forms.Group{
		{Fields: []forms.Field{
			lotField(d, "form.lot", anything...),
			forms.Amount("charge_kg", "form.put_on_the_sieves", quantity.Mass, "g", "form.sieved_charge_help").Needed(),
			{Path: "series", As: forms.AsHidden, First: string(k.Series)},
			{Path: "holes", As: forms.AsHidden, First: string(k.holes)},
		}},
		{Title: "form.on_the_sieves", Class: "on-sieves", Fields: k.rows(d.Say)},
		{Title: "form.with_the_sieves_weighed", Folded: true, Intro: "form.sieve_tare_intro", Fields: k.tares(d.Say)},
		{Title: "form.what_else_is_known", Folded: true, Fields: []forms.Field{
			runField(d),
			{Path: "portions", Label: "form.sieved_in_portions", As: forms.AsWhole, Help: "form.portions_help"},
			forms.Amount("hole_m", "form.hole_of_the_mills_screen", quantity.Length, "mm", "form.charge_hole_help"),
			{Path: "long", Label: "form.grains_longer_than_two_holes", As: forms.AsWhole, Help: "form.oversize_help"},
		}},
	}
	return sh
}

// rows are the fields of the sieves and the pan.
func (k stack) rows(p *say.Printer) []forms.Field {
	var fs []forms.Field
	for i, o := range k.Openings {
		f := forms.Amount(fmt.Sprintf("sieves.%d.mass_kg", i), k.name(p, o), quantity.Mass, "g", "")
		f.Opening = o
		fs = append(fs, f)
	}
	pan := forms.Amount("pan_kg", "form.pan", quantity.Mass, "g", "form.0_if_nothing_fell_through").Needed()
	return append(fs, pan)
}

// tares are the fields of the empty sieves, as they were the last time.
func (k stack) tares(p *say.Printer) []forms.Field {
	fs := []forms.Field{{Path: "gross", Label: "form.masses_with_sieve", As: forms.AsCheck}}
	known := map[float64]*float64{}
	var pan *float64
	if k.last != nil {
		pan = k.last.PanTare
		for _, x := range k.last.Sieves {
			known[x.Opening] = x.Tare
		}
	}
	add := func(path, label string, tare *float64) {
		f := forms.Amount(path, label, quantity.Mass, "g", "")
		if tare != nil {
			f.First = p.Typed(f.Kind, *tare, f.Unit)
		}
		fs = append(fs, f)
	}
	for i, o := range k.Openings {
		add(fmt.Sprintf("sieves.%d.tare_kg", i), p.Line("form.empty_sieve_of", fact.Name("o", k.name(p, o))), known[o])
	}
	add("pan_tare_kg", "form.empty_pan", pan)
	return fs
}

// name is what is stamped on a sieve.
func (k stack) name(p *say.Printer, opening float64) string {
	for _, s := range standards {
		if s.series != k.Series {
			continue
		}
		for _, x := range sieve.Openings(s.of) {
			if x.Opening == opening {
				return p.Decimal(x.Designation)
			}
		}
	}
	return p.Number(quantity.Length.Plain(opening))
}

// usedSieves puts the openings to the masses and leaves out sieves nobody wrote
// a mass for, and tares where masses are net.
func usedSieves(tree map[string]any, k *stack) {
	gross := tree["gross"] == true
	if !gross {
		delete(tree, "pan_tare_kg")
	}
	rows, ok := tree["sieves"].(map[string]any)
	if !ok {
		return
	}
	used := map[string]any{}
	for i := range k.Openings {
		row, ok := rows[strconv.Itoa(i)].(map[string]any)
		if !ok || row["mass_kg"] == nil {
			continue
		}
		row["opening_m"] = k.Openings[i]
		if !gross {
			delete(row, "tare_kg")
		}
		used[strconv.Itoa(len(used))] = row
		k.used = append(k.used, i)
	}
	tree["sieves"] = used
}

// Row is the field a refusal of the shop is about: it counts the sieves that
// were used, the sheet all of them.
func (k *stack) Row(path string) string {
	steps := strings.SplitN(path, ".", 3)
	if len(steps) < 3 || steps[0] != "sieves" {
		return path
	}
	i, err := strconv.Atoi(steps[1])
	if err != nil || i < 0 || i >= len(k.used) {
		return path
	}
	return "sieves." + strconv.Itoa(k.used[i]) + ".mass_kg"
}
