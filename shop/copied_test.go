package shop

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
)

// A body with every field filled, and one with every list there and empty, are copied as
// they will be read again, and nothing of the copy is the body's.
func TestACopyIsWhatIsReadAgain(t *testing.T) {
	t.Parallel()
	for _, b := range Bodies() {
		for _, n := range []int{0, 1, 3} {
			v := reflect.New(reflect.TypeOf(b).Elem())
			fill(v.Elem(), n)
			text, err := json.Marshal(v.Interface())
			if err != nil {
				t.Fatal(err)
			}
			want := reflect.New(v.Type().Elem())
			if err := json.Unmarshal(text, want.Interface()); err != nil {
				t.Fatal(err)
			}
			var c copier
			got := c.own(v)
			if !reflect.DeepEqual(got.Interface(), want.Interface()) {
				t.Errorf("%s of lists of %d is copied as %+v, read as %+v", b.Kind(), n, got.Elem(), want.Elem())
			}
			if len(text) > c.most {
				t.Errorf("the JSON of %s has %d bytes, %d at the most were thought", b.Kind(), len(text), c.most)
			}
			if at := shared(v, got); at != "" {
				t.Errorf("%s and its copy share %s", b.Kind(), at)
			}
		}
	}
}

// fill sets every field: lists of n, texts that JSON escapes, numbers with many digits.
func fill(v reflect.Value, n int) {
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), n)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), n, n+2))
		for i := range n {
			fill(v.Index(i), n)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), n)
		}
	case reflect.String:
		v.SetString(strings.Repeat("<&", 20))
	case reflect.Float64:
		v.SetFloat(-1.2345678901234567e-200)
	case reflect.Int, reflect.Int64:
		v.SetInt(-9007199254740993)
	case reflect.Bool:
		v.SetBool(true)
	}
}

// shared is where two values hold the same memory.
func shared(a, b reflect.Value) string {
	switch a.Kind() {
	case reflect.Pointer:
		if a.IsNil() {
			return ""
		}
		if a.Pointer() == b.Pointer() {
			return a.Type().String()
		}
		return shared(a.Elem(), b.Elem())
	case reflect.Slice:
		if a.Len() > 0 && a.Pointer() == b.Pointer() {
			return a.Type().String()
		}
		for i := range a.Len() {
			if at := shared(a.Index(i), b.Index(i)); at != "" {
				return at
			}
		}
	case reflect.Struct:
		for i := range a.NumField() {
			if at := shared(a.Field(i), b.Field(i)); at != "" {
				return a.Type().Field(i).Name + ": " + at
			}
		}
	}
	return ""
}

// What is too long to be read again is not taken: as many heaps as a record may have,
// with the longest texts, of signs that take six bytes each. A heap less is taken.
func TestWhatCannotBeReadAgainIsNotTaken(t *testing.T) {
	t.Parallel()
	text := strings.Repeat("<", mostName)
	digits := 0.12345678901234567
	heap := Part{Lot: LotID(text), Name: text, Polymer: text, Colour: text, RGB: text, Halogen: Yes, Mass: digits, Sure: &digits, Pieces: Pieces{&digits, &digits, &digits}}
	for heaps, taken := range map[int]bool{mostParts: false, mostParts - 5: true} {
		b := &Sorted{From: "S1"}
		for range heaps {
			b.Into = append(b.Into, heap)
		}
		json, err := Encode(b)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := Decode(b.Kind(), json); (err == nil) != taken {
			t.Errorf("of %d heaps, %d bytes: read %v", heaps, len(json), err)
		}
		if _, err := copied(b); (err == nil) != taken {
			t.Errorf("of %d heaps, %d bytes: copied %v", heaps, len(json), err)
		}
	}
}
