package reckon

import (
	"errors"
	"math"
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/fact"
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
	Key    string // stable name: "drying"
	Model  string // its page of docs/models: "moisture"
	Inputs []Input
	reckon func(*reckoning) error
}

// Title is the code of its name.
func (t Topic) Title() string { return "topic." + t.Key }

// Question is the code of what it answers.
func (t Topic) Question() string { return "asks." + t.Key }

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
	Name     string // a code of the catalogue of words
	Form     Form   // empty: a number, or a word
	Optional string // the code of what it means to leave it out; empty: its default stands in
	Kind     quantity.Kind
	Default  float64          // SI
	Low      float64          // SI, least that is taken
	High     float64          // SI, most that is taken
	Property polymer.Property // the material's own value stands in for Default; empty: no property
	Word     string           // default of what is no number, as it is written
	Choices  []string         // what the word may be; nil: the name of a material
	Shops    bool             // the shop itself said the default
}

// IsWord reports whether the input is a word or a single code.
func (i Input) IsWord() bool { return i.Form == "" && i.Word != "" || i.Form == Code }

// IsNumber reports whether the input is a number with its unit.
func (i Input) IsNumber() bool { return i.Form == "" && i.Word == "" }

// Choice is the code of one of an input's choices.
func Choice(word string) string { return fact.TermCode("choice", word) }

// Given is what was entered; what is missing is taken at its default.
type Given struct {
	Numbers map[string]float64          // by key, SI
	Words   map[string]string           // by key
	Colours map[string][]colour.Portion // by key
	Lots    map[string][]shop.LotID     // by key
	Shop    *shop.State                 // whose lots these are; nil: there is no shop
}

// Reckoning is the answer of a topic, with what a page lays out by itself.
type Reckoning struct {
	answer.Document
	Topic    Topic
	Words    map[string]string // what it was asked with that is no number, by key
	Inputs   []figure.Figure
	Swatches []Swatch // the colours it speaks of
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
	return Topic{}, shop.Refuse(shop.NotFound, "topic", fact.Say("reckon.no_topic", fact.Name("topic", key)), fact.Say("reckon.topics", fact.Names("topics", names)))
}

// For returns the topic with the material's own values as defaults where its
// inputs are properties of a material; nil takes the books.
func (t Topic) For(table *polymer.Table, material string) (Topic, error) {
	if table == nil {
		table = polymer.Books()
	}
	p, err := table.Find(material)
	if err != nil {
		return t, shop.Refused(shop.NotFound, "material", err)
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

// In returns the topic with the air of a shop as default, where its inputs are that of
// a room and the shop has said it; nil is no shop.
func (t Topic) In(state *shop.State) Topic {
	if state == nil {
		return t
	}
	t.Inputs = slices.Clone(t.Inputs)
	for i := range t.Inputs {
		in := &t.Inputs[i]
		said := map[string]*float64{"room": state.Shop.RoomTemperature, "humidity": state.Shop.RoomHumidity}[in.Key]
		if said != nil && *said >= in.Low && *said <= in.High {
			in.Default, in.Shops = *said, true
		}
	}
	return t
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
	t = t.In(given.Shop)
	if bar := t.barred(); bar != nil {
		return Reckoning{}, bar.Refusal("material")
	}
	r := &reckoning{topic: t, table: table, numbers: map[string]float64{}, given: given, out: Reckoning{Topic: t, Words: map[string]string{}}}
	if err := r.take(given); err != nil {
		return Reckoning{}, err
	}
	if err := t.reckon(r); err != nil {
		return Reckoning{}, r.refusal(err)
	}
	r.fold()
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
	taught  []int64       // the records that taught it
	learned []fact.Saying // what the shop's records taught
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

// bad refuses an input.
func (r *reckoning) bad(field string, what fact.Saying) error {
	return shop.Refuse(shop.Invalid, field, what, fact.Saying{})
}

// refusal turns what a formula refuses into the user's words.
func (r *reckoning) refusal(err error) error {
	var said *shop.Error
	if errors.As(err, &said) {
		return err
	}
	return shop.Refused(shop.Invalid, "", err)
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

// about makes it one of several of a kind, the one of that colour, name or property.
func (m made) about(kind, what string) made {
	of := func(code string) string { return code[:strings.LastIndex(code, ".")+1] + kind }
	m.Name, m.How, m.About = of(m.Name), of(m.How), what
	return m
}

// add puts a reckoned number into the answer and returns its figure. Name and
// formula are the lines "reckoned" and "how" of the topic and the key.
func (r *reckoning) add(key string, kind quantity.Kind, v float64, inputs ...string) made {
	f := figure.Exact(key, "reckoned."+r.topic.Key+"."+key, kind, v, figure.Reckoned)
	f.How = "how." + r.topic.Key + "." + key
	f.Inputs = r.inputs(inputs...)
	r.out.Figures = append(r.out.Figures, f)
	return made{&r.out.Figures[len(r.out.Figures)-1]}
}

// inputs are the inputs of those keys, as far as they are read.
func (r *reckoning) inputs(keys ...string) (all []figure.Figure) {
	for _, key := range keys {
		for _, x := range r.out.Inputs {
			if x.Key == key {
				all = append(all, x)
			}
		}
	}
	return all
}

// ranged puts a number known only as a range into the answer.
func (r *reckoning) ranged(key string, kind quantity.Kind, low, high float64, inputs ...string) made {
	f := r.add(key, kind, math.Sqrt(math.Max(low, 0)*math.Max(high, 0)), inputs...)
	f.Low, f.High = low, high
	if low <= 0 {
		f.Value = (low + high) / 2
	}
	return f
}

// drawn puts a number into the answer that is known by draws.
func (r *reckoning) drawn(key string, kind quantity.Kind, draws []float64, inputs ...string) made {
	f := r.add(key, kind, answer.Quantile(draws, 0.5), inputs...)
	f.Low, f.High = answer.Quantile(draws, 0.1), answer.Quantile(draws, 0.9)
	return f
}

// note adds something to bear in mind.
func (r *reckoning) note(s fact.Saying) { r.out.Spoilers = append(r.out.Spoilers, answer.Found(s)) }

// answer says the whole in a sentence.
func (r *reckoning) answer(s fact.Saying) { r.out.Head = answer.Found(s) }

// chart adds a picture; its title is the line "chart" of the topic and the key.
func (r *reckoning) chart(c answer.Chart) {
	c.Title, c.XUnit, c.YUnit = "chart."+r.topic.Key+"."+c.Key, c.XKind.SI(), c.YKind.SI()
	r.out.Charts = append(r.out.Charts, c)
}

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
	n := len(curve.X) - 1
	c.Summary = "reckon.from_to"
	c.Facts = []fact.Fact{fact.About("first", c.YKind, curve.Mid[0]), fact.About("from", c.XKind, curve.X[0]), fact.About("last", c.YKind, curve.Mid[n]), fact.About("to", c.XKind, curve.X[n])}
	r.chart(c)
	return nil
}

// number is a numeric input; its name is the line "given" of its key.
func number(key string, kind quantity.Kind, usual, low, high float64) Input {
	return Input{Key: key, Name: "given." + key, Kind: kind, Default: usual, Low: low, High: high}
}

// named is an input that means another thing here than under the same key elsewhere.
func (i Input) named(code string) Input {
	i.Name = code
	return i
}

// property is an input that is a property of the material.
func property(key string, p polymer.Property, usual float64) Input {
	d, _ := p.Description()
	return Input{Key: key, Name: d.Name(), Kind: d.Kind, Default: usual, Low: d.Lo, High: d.Hi, Property: p}
}

// word is an input that is one of some words, the first at its default.
func word(key string, choices ...string) Input {
	return Input{Key: key, Name: "given." + key, Word: choices[0], Choices: choices}
}

// code is an input that is a colour; without a default it may be left out, which
// means what optional says.
func code(key, usual, optional string) Input {
	return Input{Key: key, Name: "given." + key, Form: Code, Word: usual, Optional: optional}
}

// anyMaterial is the input that picks the material.
func anyMaterial() Input { return Input{Key: "material", Name: "given.material", Word: "PLA"} }

// join strings lists of inputs together.
func join(lists ...[]Input) []Input { return slices.Concat(lists...) }
