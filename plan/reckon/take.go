package reckon

// What a topic is asked with, read against its inputs.

import (
	"math"
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/colour"
	"hopperful/process/moisture"
	"hopperful/shop"
)

// take reads what was given against the topic's inputs.
func (r *reckoning) take(given Given) error {
	if err := r.unasked(given); err != nil {
		return err
	}
	material, _ := r.table.Find(r.material())
	for _, in := range r.topic.Inputs {
		switch {
		case in.IsWord():
			if err := r.word(in, given.Words[in.Key]); err != nil {
				return err
			}
			continue
		case in.Form != "":
			r.list(in, given)
			continue
		}
		v, entered := given.Numbers[in.Key]
		f := figure.Exact(in.Key, in.Name, in.Kind, v, figure.Entered)
		if !entered {
			v = in.Default
			f = figure.Exact(in.Key, in.Name, in.Kind, v, figure.Assumed)
			if own, err := material.Value(in.Property); in.Property != "" && err == nil && own.Value == v {
				f = own.Figure()
				f.Key, f.Low, f.High = in.Key, v, v
			}
			if in.Shops {
				f.Basis = figure.Entered
			}
			if in.Name == atRest {
				f = r.atRest(in, f)
				v = f.Value
			}
		}
		if !(v >= in.Low && v <= in.High) {
			return r.bad(in.Key, fact.Say("reckon.outside", fact.Word("name", in.Name), fact.Measured("value", in.Kind, v), fact.Set("low", in.Kind, in.Low), fact.Set("high", in.Kind, in.High)))
		}
		r.numbers[in.Key] = v
		r.out.Inputs = append(r.out.Inputs, f)
	}
	return nil
}

// atRest is the water of what has lain in the room's air, where that is not the air the
// table speaks of.
func (r *reckoning) atRest(in Input, table figure.Figure) figure.Figure {
	if math.Abs(r.num("humidity")-answer.Humidity) < 1e-6 && r.num("water") == table.Value {
		return table
	}
	v, err := moisture.EquilibriumWater(r.sorption(), r.num("humidity"))
	if err != nil {
		return table
	}
	return figure.Exact(in.Key, in.Name, in.Kind, math.Min(math.Max(v, in.Low), in.High), figure.Reckoned).
		From("how.water_at_rest", r.inputs("water", "saturated", "humidity")...)
}

// unasked refuses what the topic does not ask for.
func (r *reckoning) unasked(given Given) error {
	asks := func(key string, is func(Input) bool) bool {
		return slices.ContainsFunc(r.topic.Inputs, func(in Input) bool { return in.Key == key && is(in) })
	}
	for key := range given.Numbers {
		if !asks(key, Input.IsNumber) {
			return r.bad(key, fact.Say("reckon.no_number", fact.Name("topic", r.topic.Key), fact.Name("key", key)))
		}
	}
	for key := range given.Words {
		if !asks(key, Input.IsWord) {
			return r.bad(key, fact.Say("reckon.no_choice", fact.Name("topic", r.topic.Key), fact.Name("key", key)))
		}
	}
	for key := range given.Colours {
		if !asks(key, func(in Input) bool { return in.Form == Colours }) {
			return r.bad(key, fact.Say("reckon.no_colours", fact.Name("topic", r.topic.Key), fact.Name("key", key)))
		}
	}
	for key := range given.Lots {
		if !asks(key, func(in Input) bool { return in.Form == LotList }) {
			return r.bad(key, fact.Say("reckon.no_lots", fact.Name("topic", r.topic.Key), fact.Name("key", key)))
		}
	}
	return nil
}

func (r *reckoning) word(in Input, word string) error {
	if word == "" {
		word = in.Word
	}
	if in.Form == Code {
		return r.code(in, word)
	}
	if in.Choices != nil && !slices.Contains(in.Choices, word) {
		return r.bad(in.Key, fact.Say("reckon.none_of", fact.Name("word", word), fact.Names("words", in.Choices)))
	}
	if in.Choices == nil {
		p, err := r.table.Find(word)
		if err != nil {
			return shop.Refused(shop.NotFound, in.Key, err)
		}
		word = p.Name
	}
	r.out.Words[in.Key] = word
	return nil
}

// code takes a colour code; an optional one may be missing.
func (r *reckoning) code(in Input, text string) error {
	if text == "" && in.Optional != "" {
		return nil
	}
	c, err := colour.ParseHex(text)
	if err != nil {
		return shop.Refused(shop.Invalid, in.Key, err)
	}
	r.out.Words[in.Key], _ = c.Hex()
	return nil
}

// list notes the colours or lots it was asked with.
func (r *reckoning) list(in Input, given Given) {
	var text string
	switch {
	case len(given.Colours[in.Key]) > 0:
		text = colour.Portions(given.Colours[in.Key]).String()
	case len(given.Lots[in.Key]) > 0:
		ids := make([]string, len(given.Lots[in.Key]))
		for i, id := range given.Lots[in.Key] {
			ids[i] = string(id)
		}
		text = strings.Join(ids, ", ")
	}
	if text != "" {
		r.out.Words[in.Key] = text
	}
}
