package shop

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hopperful/fact"
	"io"
	"reflect"
)

// mostBody bounds the JSON of one body; the largest honest one, a hundred heaps
// with names, is a tenth of it.
const mostBody = 256 << 10

// kinds holds the type of every kind of body.
var kinds = func() map[string]reflect.Type {
	m := map[string]reflect.Type{}
	for _, b := range Bodies() {
		m[b.Kind()] = reflect.TypeOf(b).Elem()
	}
	return m
}()

// Encode writes a body as the JSON it is kept in.
func Encode(b Body) ([]byte, error) {
	if err := whole(b); err != nil {
		return nil, err
	}
	return json.Marshal(b)
}

// whole refuses no body, and one that is not sound.
func whole(b Body) error {
	if b == nil || reflect.ValueOf(b).IsNil() {
		return invalid("", fact.Say("shop.record_empty"), fact.Saying{})
	}
	return sound(b)
}

// Decode reads a body of that kind from JSON. Unknown fields, anything after
// the value, and numbers or texts out of bounds are refused.
func Decode(kind string, text []byte) (Body, error) {
	t, ok := kinds[kind]
	if !ok {
		return nil, invalid("kind", fact.Say("shop.no_kind", fact.Name("kind", clip(kind))), fact.Saying{})
	}
	if len(text) > mostBody {
		return nil, tooLong(len(text))
	}
	b := reflect.New(t).Interface().(Body)
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(b); err != nil {
		return nil, unread(kind, err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, invalid("", fact.Say("shop.text_after_record", fact.Name("kind", kind)), fact.Saying{})
	}
	if err := sound(b); err != nil {
		return nil, err
	}
	return b, nil
}

func tooLong(n int) error {
	return invalid("", fact.Say("shop.record_too_long", fact.Count("n", n), fact.Count("most_body", mostBody)), fact.Saying{})
}

// unread says what the JSON reader stumbled over.
func unread(kind string, err error) error {
	var wrong *json.UnmarshalTypeError
	if errors.As(err, &wrong) {
		return invalid(wrong.Field, fact.Say("shop.field_cannot_be", fact.Name("field", wrong.Field), fact.Name("kind", kind), fact.Name("value", wrong.Value)), fact.Saying{})
	}
	return invalid("", fact.Say("shop.not_a_record", fact.Name("kind", kind), fact.Name("err", fmt.Sprint(err))), fact.Saying{})
}
