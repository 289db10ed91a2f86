package shop

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
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
	if b == nil || reflect.ValueOf(b).IsNil() {
		return nil, invalid("", "The record says nothing.", "")
	}
	if err := sound(b); err != nil {
		return nil, err
	}
	return json.Marshal(b)
}

// Decode reads a body of that kind from JSON. Unknown fields, anything after
// the value, and numbers or texts out of bounds are refused.
func Decode(kind string, text []byte) (Body, error) {
	t, ok := kinds[kind]
	if !ok {
		return nil, invalid("kind", fmt.Sprintf("There is no kind of record %q.", clip(kind)), "")
	}
	if len(text) > mostBody {
		return nil, invalid("", fmt.Sprintf("The record has %d bytes; %d fit.", len(text), mostBody), "")
	}
	b := reflect.New(t).Interface().(Body)
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(b); err != nil {
		return nil, unread(kind, err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, invalid("", "There is something after the end of the "+kind+" record.", "")
	}
	if err := sound(b); err != nil {
		return nil, err
	}
	return b, nil
}

// unread says what the JSON reader stumbled over.
func unread(kind string, err error) error {
	var wrong *json.UnmarshalTypeError
	if errors.As(err, &wrong) {
		return invalid(wrong.Field, fmt.Sprintf("%s of a %s record cannot be a %s.", wrong.Field, kind, wrong.Value), "")
	}
	return invalid("", fmt.Sprintf("This is no %s record: %v.", kind, err), "")
}

// copied returns a body that shares nothing with b.
func copied(b Body) (Body, error) {
	text, err := Encode(b)
	if err != nil {
		return nil, err
	}
	return Decode(b.Kind(), text)
}
