package shop

// A copy of a body that shares nothing with it, and is what will be read of it again:
// by its fields, which takes a third of the time of its JSON and back.

import (
	"encoding/json"
	"reflect"
	"strings"
)

// longestNumber is how many characters of JSON a number, its name and what is about it
// take at the most; every byte of a text takes six at the most.
const (
	longestNumber = 100
	longestByte   = 6
)

// copied returns a body that shares nothing with b.
func copied(b Body) (Body, error) {
	if err := whole(b); err != nil {
		return nil, err
	}
	var c copier
	again := c.own(reflect.ValueOf(b)).Interface().(Body)
	if c.most > mostBody { // only then may its JSON be too long
		text, err := json.Marshal(b)
		if err != nil {
			return nil, err
		}
		if len(text) > mostBody {
			return nil, tooLong(len(text))
		}
	}
	return again, nil
}

// copier copies values and counts how many bytes their JSON has at the most.
type copier struct{ most int }

// own is a value that shares nothing with v, of the kinds that bodies are made of.
func (c *copier) own(v reflect.Value) reflect.Value {
	c.most += longestNumber
	switch v.Kind() {
	case reflect.String:
		c.most += longestByte * v.Len()
	case reflect.Pointer:
		if v.IsNil() {
			return v
		}
		out := reflect.New(v.Type().Elem())
		out.Elem().Set(c.own(v.Elem()))
		return out
	case reflect.Slice:
		return c.list(v)
	case reflect.Struct:
		out := reflect.New(v.Type()).Elem()
		for i, left := range omitted[v.Type()] {
			if f := v.Field(i); !left || f.Kind() != reflect.Slice || f.Len() > 0 { // an empty list that JSON leaves out is none
				out.Field(i).Set(c.own(f))
			}
		}
		return out
	}
	return v
}

func (c *copier) list(v reflect.Value) reflect.Value {
	if v.IsNil() {
		return v
	}
	out := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
	for i := range v.Len() {
		out.Index(i).Set(c.own(v.Index(i)))
	}
	return out
}

// omitted tells of each field of every struct a body is made of whether JSON leaves it out
// when it is empty.
var omitted = func() map[reflect.Type][]bool {
	all := map[reflect.Type][]bool{}
	for t := range fields {
		for i := range t.NumField() {
			_, how, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
			all[t] = append(all[t], strings.Contains(how, "omitempty"))
		}
	}
	return all
}()
