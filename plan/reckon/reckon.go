package reckon

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/process"
	"hopperful/process/colour"
	"hopperful/quantity"
	"hopperful/shop"
)

// Topic is one process that can be reckoned by itself: the edges make a command
// or a page of it, with an option or a field for every input.
type Topic struct {
	Key      string // stable name: "drying"
	Title    string
	Question string // what it answers, in the user's words
	Model    string // its page of docs/models: "moisture"
	Inputs   []Input
	reckon   func(*reckoning) error
}

// Form says how an input is written that is neither a number nor one of some
// words.
type Form string

// The forms.
const (
	Colours Form = "colours" // colour codes, each with its share
	Code    Form = "colour"  // one colour code
	LotList Form = "lots"    // lots of the shop
)

// Input is one thing a topic is asked with: a number with its unit, a word, or
// what its form says.
type Input struct {
	Key      string
	Name     string
	Form     Form   // empty: a number, or a word
	Optional string // what it means to leave it out; empty: its default stands in
	Kind     quantity.Kind
	Default  float64          // SI
	Low      float64          // SI, least that is taken
	High     float64          // SI, most that is taken
	Property polymer.Property // the material's own value stands in for Default; empty: no property
	Word     string           // default of what is no number, as it is written
	Choices  []string         // what the word may be; nil: the name of a material
}

// IsWord reports whether the input is a word or a single code.
func (i Input) IsWord() bool { return i.Form == "" && i.Word != "" || i.Form == Code }

// IsNumber reports whether the input is a number with its unit.
func (i Input) IsNumber() bool { return i.Form == "" && i.Word == "" }

// Given is what was entered; what is missing is taken at its default.
type Given struct {
	Numbers map[string]float64          // by key, SI
	Words   map[string]string           // by key
	Colours map[string][]colour.Portion // by key
	Lots    map[string][]shop.LotID     // by key
	Shop    *shop.State                 // whose lots these are; nil: there is no shop
}

// Reckoning is the answer of a topic.
type Reckoning struct {
	Topic    string            `json:"topic"`
	Title    string            `json:"title"`
	Model    string            `json:"model"`
	Answer   string            `json:"answer"` // in one sentence
	Words    map[string]string `json:"words"`  // what it was asked with that is no number, by key
	Inputs   []figure.Figure   `json:"inputs"`
	Figures  []figure.Figure   `json:"figures"`
	Swatches []Swatch          `json:"swatches,omitempty"` // the colours it speaks of
	Notes    []string          `json:"notes"`              // what to bear in mind
	Charts   []answer.Chart    `json:"charts"`
}

// topics in the order material travels.
var topics = slices.Concat(grindTopics, grainTopics, waterTopics, colourTopics, meltTopics, screwTopics, loopTopics, restTopics)

// Topics returns every topic, in the order material travels.
func Topics() []Topic { return slices.Clone(topics) }

// TopicOf finds a topic by its key; the error names the ones there are.
func TopicOf(key string) (Topic, error) {
	names := make([]string, len(topics))
	for i, t := range topics {
		if t.Key == key {
			return t, nil
		}
		names[i] = t.Key
	}
	return Topic{}, &shop.Error{Code: shop.NotFound, Field: "topic", Say: fmt.Sprintf("There is no topic %q to reckon.", key),
		Hint: "There is: " + strings.Join(names, ", ") + "."}
}

// For returns the topic with the material's own values as defaults where its
// inputs are properties of a material; nil takes the books.
func (t Topic) For(table *polymer.Table, material string) (Topic, error) {
	if table == nil {
		table = polymer.Books()
	}
	p, err := table.Find(material)
	if err != nil {
		return t, &shop.Error{Code: shop.NotFound, Field: "material", Say: answer.Sentence(err.Error())}
	}
	t.Inputs = slices.Clone(t.Inputs)
	for i := range t.Inputs {
		in := &t.Inputs[i]
		if in.Key == "material" {
			in.Word = p.Name
		}
		if v, err := p.Value(in.Property); in.Property != "" && err == nil {
			in.Default = math.Min(math.Max(v.Value, in.Low), in.High)
		}
	}
	return t, nil
}

// Answer answers a topic. What is not given is taken at its default, a
// property of the material at the material's value. Out of range is a
// [shop.Error] that names the input.
func Answer(table *polymer.Table, topic string, given Given) (Reckoning, error) {
	t, err := TopicOf(topic)
	if err != nil {
		return Reckoning{}, err
	}
	if table == nil {
		table = polymer.Books()
	}
	material := "PLA"
	if i := slices.IndexFunc(t.Inputs, func(in Input) bool { return in.Key == "material" }); i >= 0 {
		material = t.Inputs[i].Word
	}
	if w := given.Words["material"]; w != "" {
		material = w
	}
	if t, err = t.For(table, material); err != nil {
		return Reckoning{}, err
	}
	if bar := t.barred(); bar != nil {
		return Reckoning{}, bar.Refusal("material")
	}
	r := &reckoning{topic: t, table: table, numbers: map[string]float64{}, given: given,
		out: Reckoning{Topic: t.Key, Title: t.Title, Model: t.Model, Words: map[string]string{}, Inputs: []figure.Figure{}, Figures: []figure.Figure{}, Notes: []string{}, Charts: []answer.Chart{}}}
	if err := r.take(given); err != nil {
		return Reckoning{}, err
	}
	if err := t.reckon(r); err != nil {
		return Reckoning{}, r.refusal(err)
	}
	return r.out, nil
}

// barred is what keeps the topic's material from mill, dryer and printer; nil
// where there is no material or nothing bars it.
func (t Topic) barred() *shop.Bar {
	for _, in := range t.Inputs {
		if in.Key == "material" {
			return shop.BarOf(in.Word)
		}
	}
	return nil
}

// reckoning is an answer in the making.
type reckoning struct {
	topic   Topic
	table   *polymer.Table
	numbers map[string]float64
	given   Given
	taught  []int64  // the records that taught it
	learned []string // what the shop's records taught, a sentence each
	out     Reckoning
}

// material is the name of the material a topic is asked with.
func (r *reckoning) material() string {
	for _, in := range r.topic.Inputs {
		if in.Key == "material" {
			return in.Word
		}
	}
	return polymer.Unknown
}

// polymer is that material.
func (r *reckoning) polymer() (polymer.Polymer, error) { return r.table.Find(r.material()) }

func (r *reckoning) bad(field, format string, args ...any) error {
	return &shop.Error{Code: shop.Invalid, Field: field, Say: fmt.Sprintf(format, args...)}
}

// refusal turns what a formula refuses into the user's words.
func (r *reckoning) refusal(err error) error {
	var said *shop.Error
	if errors.As(err, &said) {
		return err
	}
	e := &shop.Error{Code: shop.Invalid, Say: answer.Sentence(answer.Capital(err.Error()))}
	var out *process.RangeError
	if errors.As(err, &out) {
		e.Hint = "The formula holds only inside that range; change an input."
	}
	return e
}

// num is an input's number.
func (r *reckoning) num(key string) float64 { return r.numbers[key] }

// made is a figure that stands in the answer and can still be changed there.
type made struct{ *figure.Figure }

// Cite adds a source to it.
func (m made) Cite(key, place string) made {
	*m.Figure = m.Figure.Cite(key, place)
	return m
}

// add puts a reckoned number into the answer and returns its figure.
func (r *reckoning) add(key, name string, kind quantity.Kind, v float64, how string, inputs ...string) made {
	f := figure.Exact(key, name, kind, v, figure.Reckoned)
	f.How = how
	for _, in := range inputs {
		for _, x := range r.out.Inputs {
			if x.Key == in {
				f.Inputs = append(f.Inputs, x)
			}
		}
	}
	r.out.Figures = append(r.out.Figures, f)
	return made{&r.out.Figures[len(r.out.Figures)-1]}
}

// ranged puts a number known only as a range into the answer.
func (r *reckoning) ranged(key, name string, kind quantity.Kind, low, high float64, how string, inputs ...string) made {
	f := r.add(key, name, kind, math.Sqrt(math.Max(low, 0)*math.Max(high, 0)), how, inputs...)
	f.Low, f.High = low, high
	if low <= 0 {
		f.Value = (low + high) / 2
	}
	return f
}

// drawn puts a number into the answer that is known by draws.
func (r *reckoning) drawn(key, name string, kind quantity.Kind, draws []float64, how string, inputs ...string) made {
	f := r.add(key, name, kind, answer.Quantile(draws, 0.5), how, inputs...)
	f.Low, f.High = answer.Quantile(draws, 0.1), answer.Quantile(draws, 0.9)
	return f
}

// note adds something to bear in mind.
func (r *reckoning) note(format string, args ...any) {
	r.out.Notes = append(r.out.Notes, fmt.Sprintf(format, args...))
}

// answer says the whole in a sentence.
func (r *reckoning) answer(format string, args ...any) { r.out.Answer = fmt.Sprintf(format, args...) }

// plot adds a chart of one curve: y over x in so many steps from lo to hi.
func (r *reckoning) plot(c answer.Chart, lo, hi float64, y func(x float64) (float64, error)) error {
	const steps = 48
	curve := answer.Curve{Key: c.Key, Name: c.YName}
	for i := range steps + 1 {
		share := float64(i) / steps
		x := lo + (hi-lo)*share
		if c.LogX {
			x = lo * math.Pow(hi/lo, share)
		}
		v, err := y(x)
		if err != nil {
			var out *process.RangeError
			if errors.As(err, &out) {
				continue // beyond what the formula holds for
			}
			return err
		}
		curve.X, curve.Mid = append(curve.X, x), append(curve.Mid, v)
	}
	if len(curve.X) < 2 {
		return nil
	}
	curve.Low, curve.High = curve.Mid, curve.Mid
	c.Curves = append(c.Curves, curve)
	c.XUnit, c.YUnit = c.XKind.SI(), c.YKind.SI()
	if c.Summary == "" {
		n := len(curve.X) - 1
		c.Summary = fmt.Sprintf("From %s at %s to %s at %s.", c.YKind.Rough(curve.Mid[0]), c.XKind.Rough(curve.X[0]), c.YKind.Rough(curve.Mid[n]), c.XKind.Rough(curve.X[n]))
	}
	r.out.Charts = append(r.out.Charts, c)
	return nil
}

// number is a numeric input.
func number(key, name string, kind quantity.Kind, usual, low, high float64) Input {
	return Input{Key: key, Name: name, Kind: kind, Default: usual, Low: low, High: high}
}

// property is an input that is a property of the material.
func property(key string, p polymer.Property, usual float64) Input {
	d, _ := p.Description()
	return Input{Key: key, Name: d.Name, Kind: d.Kind, Default: usual, Low: d.Lo, High: d.Hi, Property: p}
}

// anyMaterial is the input that picks the material.
func anyMaterial(name string) Input { return Input{Key: "material", Name: "material", Word: name} }
