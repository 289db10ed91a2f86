// Package books keeps a shop's accounts: where every gram went, what a kilogram of
// granulate takes in energy, time and money against buying it, and what that saves.
package books

import (
	"math"
	"slices"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// Options say which time and which prices; prices left out are those on record.
type Options struct {
	From, To  time.Time // [From, To)
	Granulate *float64  // price of bought granulate [money/kg]
	Filament  *float64  // of filament [money/kg]
	Hour      *float64  // what an hour of work is worth [money/s]
	Grid      *float64  // greenhouse gas of electricity [kg/J]
}

// Books are the accounts with what a picture of them needs.
type Books struct {
	Document answer.Document
	Streams  []Stream
}

// What nobody said. Judgement, but for the grid: 0.02 to 0.9 kg/kWh by country, from memory.
const (
	handling           = 60.0 // s a charge, as in plans
	oneRun             = 1.5  // a single run may be off by such a factor
	z90                = 1.2816
	kWh                = 3.6e6
	usualGrid          = 0.3 / kWh
	leastGrid, topGrid = 0.02 / kWh, 0.9 / kWh
)

// Month is the month a moment lies in, in its place.
func Month(at time.Time) Options {
	from := time.Date(at.Year(), at.Month(), 1, 0, 0, 0, 0, at.Location())
	return Options{From: from, To: from.AddDate(0, 1, 0)}
}

// PerSecond takes what an hour is worth for a second; nil stays nil.
func PerSecond(hour *float64) *float64 { return divided(hour, 3600) }

// PerJoule takes the gas of a kilowatt-hour for a joule; nil stays nil.
func PerJoule(kilowattHour *float64) *float64 { return divided(kilowattHour, kWh) }

func divided(v *float64, by float64) *float64 {
	if v == nil {
		return nil
	}
	each := *v / by
	return &each
}

// job is an answer on its way.
type job struct {
	state *shop.State
	opt   Options
	*ledger
	doc answer.Document

	grinding, drying, printing stage // their electricity
}

// Of keeps the books of a time.
func Of(s *shop.State, o Options) (Books, error) {
	if !o.From.Before(o.To) {
		return Books{}, shop.Refuse(shop.Invalid, "from", fact.Say("books.ends_first"), fact.Say("books.turn_round"))
	}
	for _, x := range []struct {
		field string
		price *float64
	}{{"granulate", o.Granulate}, {"filament", o.Filament}, {"hour", o.Hour}, {"grid", o.Grid}} {
		if v := x.price; v != nil && !(*v >= 0 && *v <= 1e6) {
			return Books{}, shop.Refuse(shop.Invalid, x.field, fact.Say("books.no_price"), fact.Say("books.price_again"))
		}
	}
	l, err := read(s, o.From, o.To)
	if err != nil {
		return Books{}, err
	}
	j := &job{state: s, opt: o, ledger: l, drying: dried(s, o), printing: printedOf(s, o)}
	j.head()
	if err := j.money(); err != nil {
		return Books{}, err
	}
	j.balance()
	j.flows()
	j.electricity()
	return Books{j.doc, j.streams}, nil
}

func (j *job) moment(key string, at time.Time) fact.Fact {
	return fact.Name(key, at.Format(time.DateOnly))
}

// head says how much became what.
func (j *job) head() {
	from, to := j.moment("from", j.opt.From), j.moment("to", j.opt.To.Add(-time.Second))
	if j.runs == 0 && j.printed == 0 && len(j.taken) == 0 {
		j.doc.Head = answer.Found(fact.Say("books.nothing", from, to), fact.Say("books.other_time"))
		return
	}
	j.doc.Head = answer.Found(fact.Say("books.head", from, to, fact.About("scrap", quantity.Mass, j.scrap), fact.About("product", quantity.Mass, j.product), fact.About("printed", quantity.Mass, j.printed)))
}

// money is yield, energy, cost and what it saves.
func (j *job) money() error {
	add := func(f figure.Figure) { j.doc.Figures = append(j.doc.Figures, f) }
	exact := func(key, name string, kind quantity.Kind, v float64) figure.Figure {
		return figure.Exact(key, name, kind, v, figure.Measured)
	}
	for _, id := range j.doubted {
		j.doc.Spoilers = append(j.doc.Spoilers, answer.Found(fact.Say("books.asked_about", fact.Count("record", int(id)))))
	}
	j.doc.Spoilers = j.doc.Spoilers[:min(len(j.doc.Spoilers), answer.MostSpoilers)]
	if j.charged <= 0 || j.product <= 0 {
		return nil
	}
	out, in := exact("product", "books.product", quantity.Mass, j.product), exact("charged", "books.charged", quantity.Mass, j.charged)
	add(figure.Exact("yield", "books.yield", quantity.Share, j.product/j.charged, figure.Reckoned).From("m_out / m_in", out, in))
	if j.printed > 0 && j.scrap > 0 {
		add(figure.Exact("printed_per_scrap", "books.printed_per_scrap", quantity.Share, j.printed/j.scrap, figure.Reckoned).
			From("m_printed / m_ground", exact("printed", "books.printed", quantity.Mass, j.printed), exact("scrap", "books.scrap", quantity.Mass, j.scrap)))
	}
	energy, metered := j.energy()
	if metered {
		add(energy)
	} else {
		j.doc.Spoilers = append(j.doc.Spoilers, answer.Found(fact.Say("books.unmetered"), fact.Say("books.read_the_meter")))
	}
	var later []figure.Figure
	if j.drying.mass > 0 {
		later = append(later, j.drying.figureOf("books.drying_energy"))
	}
	if j.printing.mass > 0 {
		later = append(later, j.printing.figureOf("books.printing_energy"))
	}
	j.doc.Figures = append(j.doc.Figures, later...)
	j.cost(energy, metered)
	if metered {
		j.grinding = stage{key: "grinding", mass: j.product, total: span{energy.Value, energy.Low, energy.High}.times(j.product), read: len(j.energies), all: j.runs - len(j.doubted)}
	}
	return j.gas(energy, metered)
}

// energy is that of a kilogram.
func (j *job) energy() (figure.Figure, bool) {
	mean, low, high, ok := j.perKilogram()
	f := figure.Figure{Key: "energy", Name: "books.energy", Kind: quantity.SpecificEnergy, Value: mean, Low: low, High: high, Basis: figure.Reckoned, Runs: len(j.energies)}
	return f.From("Σ E / Σ m_out"), ok
}

// cost is a kilogram's in money, against buying it. Where anything was dried, a
// kilogram is dried; bought granulate wants drying as well, filament comes dry.
func (j *job) cost(energy figure.Figure, metered bool) {
	currency := j.state.Shop.Currency
	var parts []figure.Figure
	var c, dry span
	if p := j.state.Shop.ElectricityPrice; p != nil && metered {
		c = span{energy.Value, energy.Low, energy.High}.times(*p)
		price := figure.Exact("electricity", "books.electricity", quantity.MoneyPerEnergy, *p, figure.Entered)
		price.Currency = currency
		parts = append(parts, energy, price)
		if j.drying.mass > 0 {
			dry = j.drying.perKilogram().times(*p)
			c, parts = c.and(dry), append(parts, j.drying.figureOf("books.drying_energy"))
		}
	} else if metered {
		j.doc.Spoilers = append(j.doc.Spoilers, answer.Found(fact.Say("books.no_electricity"), fact.Say("do.say_electricity")))
	}
	time := figure.Exact("time", "books.work", quantity.Duration, j.work/j.worked, figure.Reckoned).From("Σ (t_run + t_handling) / Σ m_out")
	if h := j.opt.Hour; h != nil {
		each := *h * time.Value
		c = c.and(span{each, each, each})
		parts = append(parts, time)
	}
	formula := "e·p + t·w"
	if dry.value > 0 {
		formula = "(e + e_dry)·p + t·w"
	}
	if len(parts) > 0 {
		f := figure.Figure{Key: "cost", Name: "books.cost", Kind: quantity.MoneyPerMass, Value: c.value, Low: c.low, High: c.high, Basis: figure.Reckoned, Currency: currency}
		j.doc.Figures = append(j.doc.Figures, f.From(formula, parts...))
		j.printedCost(c, f, currency)
	}
	s := answer.Section{Key: "books_buying", Notes: []fact.Saying{fact.Say("books.own_prices")}, Figures: []figure.Figure{time}}
	buy := func(key, name string, price *float64, basis figure.Basis, against span, how string) {
		if price == nil {
			return
		}
		f := figure.Exact(key, name, quantity.MoneyPerMass, *price, basis)
		f.Currency = currency
		s.Figures = append(s.Figures, f)
		if len(parts) > 0 {
			saved := figure.Figure{Key: key + "_saves", Name: "books.saves", Kind: quantity.MoneyPerMass, Value: *price - against.value, Low: *price - against.high, High: *price - against.low, Basis: figure.Reckoned, Currency: currency}
			s.Figures = append(s.Figures, saved.From(how, f))
		}
	}
	granulate, basis := j.opt.Granulate, figure.Entered
	if granulate == nil && j.bought > 0 {
		each := j.paid / j.bought
		granulate, basis = &each, figure.Measured
	}
	how := "p_buy − c"
	if dry.value > 0 {
		how = "p_buy + e_dry·p − c"
	}
	buy("granulate", "books.granulate", granulate, basis, span{c.value - dry.value, c.low - dry.low, c.high - dry.high}, how)
	buy("filament", "books.filament", j.opt.Filament, figure.Entered, c, "p_buy − c")
	if granulate == nil && j.opt.Filament == nil {
		s.Notes = append(s.Notes, fact.Say("books.say_prices"))
	}
	j.doc.Reasons = append(j.doc.Reasons, s)
}

// printedCost is what the electricity of a kilogram of prints comes to, granulate and
// its printing.
func (j *job) printedCost(c span, cost figure.Figure, currency string) {
	p := j.state.Shop.ElectricityPrice
	if p == nil || j.printing.mass <= 0 {
		return
	}
	c = c.and(j.printing.perKilogram().times(*p))
	f := figure.Figure{Key: "cost_printed", Name: "books.cost_printed", Kind: quantity.MoneyPerMass, Value: c.value, Low: c.low, High: c.high, Basis: figure.Reckoned, Currency: currency}
	j.doc.Figures = append(j.doc.Figures, f.From("c + e_print·p", cost, j.printing.figureOf("books.printing_energy")))
}

// gas is the greenhouse gas that a kilogram of one's own saves against bought resin.
func (j *job) gas(energy figure.Figure, metered bool) error {
	table, err := j.state.Table()
	if err != nil {
		return err
	}
	s := answer.Section{Key: "books_gas", Notes: []fact.Saying{fact.Say("books.gas_bounds")}}
	var value, low, high, known, total float64
	for _, name := range sortedKeys(j.byPolymer) {
		m := j.byPolymer[name]
		total += m
		p, err := table.Find(name)
		if err != nil {
			continue
		}
		v, err := p.Value(polymer.Greenhouse)
		if err != nil || p.Name == polymer.Unknown {
			continue
		}
		known += m
		value, low, high = value+m*v.Value, low+m*v.Low, high+m*v.High
		f := figure.Figure{Key: "gas_" + key(name), Name: "books.gas_of", About: p.Name, Kind: quantity.Number, Value: v.Value, Low: v.Low, High: v.High, Basis: figure.Books}
		if v.Source.Key != "" {
			f = f.Cite(v.Source.Key, v.Source.Place)
		}
		s.Figures = append(s.Figures, f)
	}
	if known <= 0 || !metered {
		return nil
	}
	if known < total*(1-1e-9) {
		s.Notes = append(s.Notes, fact.Say("books.gas_unknown", fact.About("mass", quantity.Mass, total-known)))
	}
	grid := figure.Figure{Key: "grid", Name: "books.grid", Kind: quantity.Number, Value: usualGrid * kWh, Low: leastGrid * kWh, High: topGrid * kWh, Basis: figure.Assumed}
	if g := j.opt.Grid; g != nil {
		grid = figure.Exact("grid", "books.grid", quantity.Number, *g*kWh, figure.Entered)
	}
	f := figure.Figure{Key: "gas_saved", Name: "books.gas_saved", Kind: quantity.Number, Value: value/known - energy.Value/kWh*grid.Value,
		Low: low/known - energy.High/kWh*grid.High, High: high/known - energy.Low/kWh*grid.Low, Basis: figure.Reckoned}
	s.Figures = append(s.Figures, grid)
	j.doc.Figures = append(j.doc.Figures, f.From("Σ m·g / Σ m − e·g_grid", append(slices.Clone(s.Figures), energy)...))
	j.doc.Reasons = append(j.doc.Reasons, s)
	return nil
}

func sortedKeys(m map[string]float64) []string {
	var all []string
	for k := range m {
		all = append(all, k)
	}
	slices.Sort(all)
	return all
}

// key makes a snake_case name of a plastic's.
func key(name string) string {
	out := []rune{}
	for _, c := range name {
		switch {
		case c >= 'A' && c <= 'Z':
			out = append(out, c+'a'-'A')
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
			out = append(out, c)
		case len(out) > 0 && out[len(out)-1] != '_':
			out = append(out, '_')
		}
	}
	if len(out) == 0 {
		return "unknown"
	}
	return string(out)
}

// balance is where the grams went: before and in, after and out.
func (j *job) balance() {
	t := answer.Table{Key: "books_balance", Leads: true, Columns: []answer.Column{{Key: "what"}, {Key: "grams_in", Numbers: true}, {Key: "grams_out", Numbers: true}}}
	var in, out float64
	row := func(what fact.Fact, side *float64, kg float64) {
		if math.Abs(kg) < 5e-7 {
			return
		}
		*side += kg
		cells := []fact.Fact{what, fact.Name("in", ""), fact.Name("out", "")}
		at := 1
		if side == &out {
			at = 2
		}
		cells[at] = fact.Measured("mass", quantity.Mass, kg)
		t.Rows = append(t.Rows, cells)
	}
	row(fact.Word("what", "books.lots_before"), &in, j.before.OnHand)
	row(fact.Word("what", "books.mills_before"), &in, j.before.InMills)
	row(fact.Word("what", "books.prints_before"), &in, j.before.Printed)
	row(fact.Word("what", "books.scrap_taken"), &in, j.taken[shop.Scrap])
	row(fact.Word("what", "books.virgin_taken"), &in, j.taken[shop.Virgin])
	row(fact.Word("what", "books.other_taken"), &in, j.taken[shop.Regrind]+j.taken[shop.Blend]+j.taken[shop.Print])
	for _, name := range sortedKeys(j.losses) {
		row(lossWord(name), &out, j.losses[name])
	}
	row(fact.Word("what", "books.prints_after"), &out, j.after.Printed)
	row(fact.Word("what", "books.mills_after"), &out, j.after.InMills)
	row(fact.Word("what", "books.lots_after"), &out, j.after.OnHand)
	t.Rows = append(t.Rows, []fact.Fact{fact.Word("what", "books.sum"), fact.Measured("in", quantity.Mass, in), fact.Measured("out", quantity.Mass, out)})
	if d := in - out; math.Abs(d) > 1e-6 {
		t.Notes = append(t.Notes, fact.Say("books.does_not_close", fact.Measured("rest", quantity.Mass, d)))
	} else {
		t.Notes = append(t.Notes, fact.Say("books.closes"))
	}
	j.doc.Tables = append(j.doc.Tables, t)
}

// lossWord is what a loss is called.
func lossWord(name string) fact.Fact {
	switch name {
	case shop.LostGrinding:
		return fact.Word("what", "books.lost_grinding")
	case shop.SweptUp:
		return fact.Word("what", "books.swept")
	case shop.MetalCut:
		return fact.Word("what", "books.metal_cut")
	case shop.ThrownAway:
		return fact.Word("what", "books.thrown_away")
	case shop.Purged:
		return fact.Word("what", "books.purged")
	case shop.MetalCaught:
		return fact.Word("what", "books.metal_caught")
	case shop.DustTaken:
		return fact.Word("what", "books.dust_taken")
	case shop.DriedOff:
		return fact.Word("what", "books.dried_off")
	case shop.TestExtruded:
		return fact.Word("what", "books.extruded")
	case shop.Recount:
		return fact.Word("what", "books.recount")
	case shop.Difference:
		return fact.Word("what", "books.difference")
	}
	return fact.Name("what", name)
}

// flows is the table behind the picture.
func (j *job) flows() {
	slices.SortStableFunc(j.streams, func(a, b Stream) int { return int(math.Copysign(1, b.Mass-a.Mass)) })
	if len(j.streams) == 0 {
		return
	}
	t := answer.Table{Key: "books_flows", Columns: []answer.Column{{Key: "flow_from"}, {Key: "flow_to"}, {Key: "flow_mass", Numbers: true}}}
	for _, x := range j.streams {
		t.Rows = append(t.Rows, []fact.Fact{PlaceWord("from", x.From), PlaceWord("to", x.To), fact.About("mass", quantity.Mass, x.Mass)})
	}
	j.doc.Tables = append(j.doc.Tables, t)
}

// PlaceWord is what a place of the flow is called.
func PlaceWord(name string, p Place) fact.Fact {
	switch p {
	case ScrapPlace:
		return fact.Word(name, "books.place_scrap")
	case VirginPlace:
		return fact.Word(name, "books.place_virgin")
	case RegrindPlace:
		return fact.Word(name, "books.place_regrind")
	case BlendPlace:
		return fact.Word(name, "books.place_blend")
	case PrintPlace:
		return fact.Word(name, "books.place_print")
	case MillPlace:
		return fact.Word(name, "books.place_mill")
	}
	return fact.Word(name, "books.place_lost")
}

// FlowSays is a stream in words.
func FlowSays(x Stream) fact.Saying {
	return fact.Say("books.flows", PlaceWord("from", x.From), PlaceWord("to", x.To), fact.About("mass", quantity.Mass, x.Mass))
}
