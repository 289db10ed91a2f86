package consumption

// How much granulate a print wants: reckoned here and nowhere else.

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// Amount is one case of what a print takes.
type Amount struct {
	Part    float64 // the printed part [kg]
	Through float64 // what goes through the nozzle for it, with the purge [kg]
	Want    float64 // what the shop has to have ready [kg]
}

// Wanting is how much granulate a print wants.
type Wanting struct {
	Figure  figure.Figure
	amounts []Amount // by Want, the least first
}

// wantDraws is how many cases stand behind the figure: a fixed number, so that
// every room tells the same grams however finely it draws itself.
const wantDraws = 480

// Want says how much granulate a need takes of a polymer: the part, and what
// is spent around it, as far as this shop's own prints tell.
func Want(s *shop.State, p polymer.Polymer, need shop.Need) (Wanting, error) {
	if need.Mass == nil && need.Volume == nil {
		return Wanting{}, NoAmount(need)
	}
	beliefs, err := spending(s, p, need)
	if err != nil {
		return Wanting{}, err
	}
	rows, err := estimate.Hypercube(beliefs, wantDraws, rand.New(rand.NewPCG(answer.Seed, answer.Seed)))
	if err != nil {
		return Wanting{}, fmt.Errorf("drawing what %s wants: %w", need.Name, err)
	}
	w := Wanting{amounts: make([]Amount, len(rows))}
	for i, row := range rows {
		part := row[0]
		if need.Mass == nil {
			part *= row[wantDensity] * row[wantScale]
		}
		w.amounts[i] = Amount{Part: part, Through: part * (1 + row[wantPurge]), Want: part * (1 + row[wantPurge] + row[wantStart] + row[wantHandling])}
	}
	slices.SortFunc(w.amounts, func(a, b Amount) int { return cmp.Compare(a.Want, b.Want) })
	return w, w.explain(need, beliefs)
}

// NoAmount refuses a need of which nobody knows how much it is.
func NoAmount(need shop.Need) error {
	return shop.Refuse(shop.Invalid, "mass_kg", fact.Say("need.no_amount", fact.Name("name", need.Name)), fact.Say("need.type_mass"))
}

// The beliefs behind a wanted mass: the part's mass or volume first.
const (
	wantPart = iota
	wantPurge
	wantStart
	wantHandling
	wantDensity // of a volume only
	wantScale
)

// spending is what is believed of the part and of what is spent around it.
func spending(s *shop.State, p polymer.Polymer, need shop.Need) ([]estimate.Belief, error) {
	book := estimate.Prior()
	all := []estimate.Belief{{}, purged(s, book[estimate.Purge]), book[estimate.StartUp], book[estimate.Handling]}
	if need.Mass != nil {
		all[wantPart] = estimate.Belief{Key: "print_mass", Name: "need.part_mass", Kind: quantity.Mass, Family: estimate.Exact,
			Median: *need.Mass, Low: *need.Mass, High: *need.Mass, FromUser: true}
		return all, nil
	}
	volume := Plastic(need, figure.Measured)
	if !(volume.Low > 0) {
		return nil, noPlastic(need)
	}
	all[wantPart] = estimate.Belief{Key: "print_volume", Name: "need.volume", Kind: quantity.Volume, Family: estimate.LogNormal,
		Median: volume.Value, Low: volume.Low, High: volume.High}
	v, err := p.Value(polymer.Density)
	if err != nil {
		return nil, err
	}
	density := book[estimate.SolidDensity]
	density.Median, density.Low, density.High, density.Source = v.Value, v.Low, v.High, v.Source
	density.FromUser = v.Figure().Basis == figure.Entered
	return append(all, density, book[estimate.PrintScale]), nil
}

// What a shop's own prints say of the purge: how widely one print's purge lies
// about the shop's usual one, and the shops' about the books', each as the
// standard deviation of the logarithm. Judgement: together they are the range
// of the books.
const purgeScatter = 0.5

// purged is the books' purge, moved by the prints whose purge was weighed: a
// normal prior and normal readings on the logarithm, and the range of the next
// print (own derivation).
func purged(s *shop.State, book estimate.Belief) estimate.Belief {
	sum, n := 0.0, 0
	var records []int64
	for _, e := range s.Prints() {
		b := e.Body
		if b.Purged == nil || b.Mass-*b.Purged <= 0 {
			continue
		}
		sum += math.Log(math.Max(*b.Purged/(b.Mass-*b.Purged), leastPurge))
		n++
		records = append(records, int64(e.ID))
	}
	if n == 0 {
		return book
	}
	whole := math.Log(book.High/book.Low) / (2 * answer.Ninety)
	within := purgeScatter * purgeScatter
	between := math.Max(whole*whole-within, within/4)
	precision := 1/between + float64(n)/within
	mid := (math.Log(book.Median)/between + sum/within) / precision
	half := answer.Ninety * math.Sqrt(within+1/precision)
	book.Median, book.Low, book.High = math.Exp(mid), math.Exp(mid-half), math.Exp(mid+half)
	book.Family, book.Runs, book.Records = estimate.LogNormal, n, records
	return book
}

// leastPurge stands for a purge of nothing [1]: no scale tells less. Judgement.
const leastPurge = 1e-3

// explain makes the figure of it.
func (w *Wanting) explain(need shop.Need, beliefs []estimate.Belief) error {
	pick := func(each func(Amount) float64) []float64 {
		all := make([]float64, len(w.amounts))
		for i, a := range w.amounts {
			all[i] = each(a)
		}
		return all
	}
	inputs := make([]figure.Figure, len(beliefs))
	for i, b := range beliefs {
		inputs[i] = beliefFigure(b)
	}
	part := inputs[wantPart]
	if need.Mass == nil {
		var err error
		if part, err = figure.FromDraws("print_mass", "need.part_mass", quantity.Mass, pick(func(a Amount) float64 { return a.Part })); err != nil {
			return err
		}
		inputs[wantPart].How, inputs[wantPart].About = takenOf(need)
		part = part.From("how.part_mass", inputs[wantPart], inputs[wantDensity], inputs[wantScale])
	}
	want, err := figure.FromDraws("need", "need.wanted", quantity.Mass, pick(func(a Amount) float64 { return a.Want }))
	if err != nil {
		return err
	}
	w.Figure = want.From("how.wanted", part, inputs[wantPurge], inputs[wantStart], inputs[wantHandling])
	return nil
}

// spent are the names of what is believed of a print, by their keys.
var spent = map[string]string{"purge": "need.purge", "start_up": "need.start_up", "handling": "need.handling",
	"solid_density": "need.solid_density", "print_scale": "need.print_scale"}

// beliefFigure turns what is believed into an explained number.
func beliefFigure(b estimate.Belief) figure.Figure {
	if code := spent[b.Key]; code != "" {
		b.Name = code
	}
	f := figure.Figure{Key: b.Key, Name: b.Name, Kind: b.Kind, Value: b.Median, Low: b.Low, High: b.High, Basis: figure.Books, Runs: b.Runs, Records: b.Records}
	switch {
	case b.Runs > 0:
		f.Basis = figure.Learned
	case b.FromUser:
		f.Basis = figure.Entered
	case b.Source.Key == "judgement":
		f.Basis = figure.Assumed
	case b.Source.Key == "":
		f.Basis = figure.Measured
	}
	if b.Source.Key != "" {
		f = f.Cite(b.Source.Key, b.Source.Place)
	}
	return f
}

// At is the case that this share of all cases wants less than.
func (w Wanting) At(share float64) Amount {
	n := len(w.amounts)
	return w.amounts[min(max(int(share*float64(n)), 0), n-1)]
}

// Beside are cases that stand for all, one for each number of a column of
// draws: the least for the least of it, and so on.
func (w Wanting) Beside(column []float64) []Amount {
	order := make([]int, len(column))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(column[a], column[b]) })
	all := make([]Amount, len(column))
	for rank, i := range order {
		all[i] = w.At((float64(rank) + 0.5) / float64(len(column)))
	}
	return all
}
