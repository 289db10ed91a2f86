package shop

import (
	"fmt"
	"hopperful/fact"
	"reflect"
	"strconv"
	"unicode"
)

// unseen refuses names with letters that turn the direction of writing (Unicode
// Standard Annex 9, section 2: the bidirectional controls): they are not seen, and
// one name can be made to look like another. Only new records are asked: what was
// written before stays readable.
func unseen(r Record) error {
	if err := noControls("by", r.By); err != nil {
		return err
	}
	if e := unseenIn(reflect.ValueOf(r.Body).Elem(), ""); e != nil {
		return e
	}
	return nil
}

func unseenIn(v reflect.Value, path string) error {
	for i, f := range fields[v.Type()] {
		if f.most >= mostNote {
			continue // a text to read, not a name
		}
		if e := unseenValue(v.Field(i), path+f.name); e != nil {
			return e
		}
	}
	return nil
}

func unseenValue(v reflect.Value, path string) error {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			return unseenValue(v.Elem(), path)
		}
	case reflect.Struct:
		return unseenIn(v, path+".")
	case reflect.Slice:
		for i := range v.Len() {
			if e := unseenValue(v.Index(i), path+"."+strconv.Itoa(i)); e != nil {
				return e
			}
		}
	case reflect.String:
		return noControls(path, v.String())
	}
	return nil
}

func noControls(path, text string) error {
	for _, c := range text {
		if unicode.Is(unicode.Bidi_Control, c) {
			return invalid(path, fact.Say("shop.name_turns_writing", fact.Name("c", fmt.Sprintf("%U", c))), fact.Say("shop.do_type_again"))
		}
	}
	return nil
}
