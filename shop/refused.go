package shop

// What the ground floor refuses, as a finding: the one place where its errors get
// their codes.

import (
	"errors"
	"math"
	"strings"

	"hopperful/fact"
	"hopperful/polymer"
	"hopperful/process"
	"hopperful/process/ageing"
	"hopperful/process/colour"
	"hopperful/process/melt"
	"hopperful/process/moisture"
	"hopperful/quantity"
)

// Refused is what the ground floor refused as a refusal of a field.
func Refused(code Code, field string, err error) *Error {
	return RefusedAs(code, field, fact.Saying{}, err)
}

// RefusedAs is the same under the name of what it is about.
func RefusedAs(code Code, field string, about fact.Saying, err error) *Error {
	what, advice := whyNot(err)
	if !about.Empty() {
		what = fact.Say("refused.about", fact.Parts("about", about), fact.Parts("what", what))
	}
	return Refuse(code, field, what, advice)
}

// Known reports whether the refusal is worded: an error that the ground floor does
// not know is passed on as it is.
func (e *Error) Known() bool { return !e.What.Empty() && e.What.Code != fact.Verbatim("").Code }

// WhyNot is what is wrong, by an error of the ground floor.
func WhyNot(err error) fact.Saying {
	what, _ := whyNot(err)
	return what
}

func whyNot(err error) (what, advice fact.Saying) {
	var (
		unknown *polymer.UnknownError
		missing *polymer.MissingError
		off     *polymer.OffError
		unread  *quantity.Error
		fumes   *melt.TooHotError
		sticks  *moisture.TooHotError
		wet     *moisture.TooWetError
		deep    *moisture.TooDeepError
		code    *colour.CodeError
		shares  *colour.PortionError
		bright  *colour.GuessError
		aged    *ageing.UnknownError
		out     *process.RangeError
	)
	if err == nil {
		return what, advice
	}
	kelvin := func(name string, v float64) fact.Fact { return fact.About(name, quantity.Temperature, v) }
	switch {
	case errors.As(err, &unknown):
		return fact.Say("refused.no_material", fact.Name("name", unknown.Name), fact.Names("near", unknown.Near)), fact.Say("refused.write_unknown", fact.Name("unknown", polymer.Unknown))
	case errors.As(err, &missing):
		return fact.Say("refused.no_value", fact.Word("property", missing.Property.Name()), fact.Name("polymer", missing.Polymer)), fact.Say("refused.enter_own")
	case errors.As(err, &off):
		return offValue(off)
	case errors.As(err, &unread):
		return unreadable(unread), fact.Saying{}
	case errors.As(err, &fumes):
		return fact.Say("refused.melt_hot", kelvin("at", fumes.Temperature), kelvin("ceiling", fumes.Ceiling)), fact.Say("refused.set_lower")
	case errors.As(err, &sticks):
		return fact.Say("refused.sticks", kelvin("at", sticks.Temperature), kelvin("soft", sticks.Softening)), fact.Say("refused.dry_cooler")
	case errors.As(err, &wet):
		return fact.Say("refused.too_wet", fact.About("rest", quantity.Share, wet.Equilibrium), fact.Set("limit", quantity.Share, wet.Limit)), fact.Say("refused.drier_air")
	case errors.As(err, &deep):
		return fact.Say("refused.too_deep", fact.Set("depth", quantity.Length, deep.Depth), fact.About("heap", quantity.Duration, deep.Bed), fact.About("grain", quantity.Duration, deep.Grain)),
			fact.Say("refused.spread", fact.About("depth", quantity.Length, deep.Deepest))
	case errors.As(err, &code):
		return fact.Say("refused.no_code", fact.Name("text", code.Text)), fact.Say("refused.write_code")
	case errors.As(err, &shares):
		return fact.Say("refused.colours", fact.Count("entry", shares.Entry), fact.Name("text", shares.Text), fact.Term("why", "portion", string(shares.Why))), fact.Say("refused.write_shares")
	case errors.As(err, &bright):
		return fact.Say("refused.too_bright", fact.Set("l", quantity.Number, bright.Colour.L), fact.Set("a", quantity.Number, bright.Colour.A), fact.Set("b", quantity.Number, bright.Colour.B)), fact.Say("refused.take_duller")
	case errors.As(err, &aged):
		return fact.Say("refused.ages_unknown", fact.Term("property", "ages", string(aged.Property)), fact.Name("polymer", aged.Polymer), fact.Names("known", aged.Known)), fact.Say("refused.measure_pass")
	case errors.As(err, &out):
		return outside(out, argument(out.Name)), fact.Say("shop.take_inside")
	}
	return fact.Verbatim(err.Error()), fact.Saying{}
}

// argument is what a formula calls it, or the code of a line where the name is one.
func argument(name string) fact.Fact {
	if strings.Contains(name, ".") && !strings.Contains(name, " ") {
		return fact.Word("what", name)
	}
	return fact.Term("what", "argument", name)
}

// outside says how a number lies outside what a formula takes.
func outside(e *process.RangeError, is fact.Fact) fact.Saying {
	kind, ok := e.Quantity()
	if !ok {
		kind = quantity.Number
	}
	value, low, high := fact.Set("value", kind, e.Value), fact.Set("low", kind, e.Lo), fact.Set("high", kind, e.Hi)
	switch {
	case math.IsNaN(e.Value) || math.IsInf(e.Value, 0):
		return fact.Say("shop.no_number", is)
	case math.IsInf(e.Hi, 1) || e.Hi >= math.MaxFloat64:
		return fact.Say("shop.below_range", is, value, low)
	case math.IsInf(e.Lo, -1) || e.Lo <= -math.MaxFloat64:
		return fact.Say("shop.above_range", is, value, high)
	}
	return fact.Say("shop.outside_range", is, value, low, high)
}

// OutOfRange is what a formula refuses as a refusal of the answer it came from;
// what says what that answer is, and may be empty.
func OutOfRange(field string, what fact.Saying, err error) *Error {
	var out *process.RangeError
	if what.Empty() || !errors.As(err, &out) {
		return Refused(Invalid, field, err)
	}
	return Refuse(Invalid, field, outside(out, fact.Parts("what", what)), fact.Say("shop.take_inside"))
}

// unreadable says why a text is no quantity.
func unreadable(e *quantity.Error) fact.Saying {
	kind := fact.Term("kind", "kind", e.Kind.String())
	why := fact.Saying{Code: fact.TermCode("unread", string(e.Fault)), Facts: []fact.Fact{fact.Name("part", e.Part), kind, fact.Term("other", "kind", e.Other.String()), fact.Name("units", strings.Join(e.Units, ", "))}}
	for i, name := range []string{"a", "b"} {
		text := ""
		if i < len(e.Words) {
			text = e.Words[i]
		}
		why.Facts = append(why.Facts, fact.Name(name, text))
	}
	return fact.Say("refused.quantity", fact.Name("text", e.Text), fact.Parts("why", why))
}

// offValue says why a material's own value cannot be right.
func offValue(e *polymer.OffError) (what, advice fact.Saying) {
	set := func(name string, v float64) fact.Fact { return fact.Measured(name, e.Kind, v) }
	property, name := fact.Word("property", e.Property.Name()), fact.Name("polymer", e.Polymer)
	if e.Disordered() {
		return fact.Say("refused.value_order", property, name, set("low", e.Low), set("value", e.Value.Value), set("high", e.High)), fact.Say("refused.put_in_order")
	}
	return fact.Say("refused.value_band", property, name, set("low", e.Low), set("high", e.High), set("least", e.Lo), set("most", e.Hi)), fact.Say("refused.look_for_unit")
}
