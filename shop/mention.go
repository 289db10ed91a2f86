package shop

import "reflect"

// Mentioned are the lots that a record names.
func Mentioned(b Body) []LotID {
	var all []LotID
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.String:
			if v.Type() == reflect.TypeFor[LotID]() && v.String() != "" {
				all = append(all, LotID(v.String()))
			}
		case reflect.Pointer:
			if !v.IsNil() {
				walk(v.Elem())
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i))
			}
		case reflect.Slice:
			if k := v.Type().Elem().Kind(); k == reflect.Struct || k == reflect.String {
				for i := range v.Len() {
					walk(v.Index(i))
				}
			}
		}
	}
	walk(reflect.ValueOf(b))
	return all
}
