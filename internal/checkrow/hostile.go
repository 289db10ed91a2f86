package checkrow

// No number, however hostile, comes out as NaN or infinity without an error.

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

// Hostile calls every function many times with numbers from good to absurd and
// fails where a result is not finite and no error comes with it. The functions
// take numbers, switches, structs and slices of them, and return an error last.
func Hostile(t *testing.T, funcs map[string]any) {
	t.Helper()
	r := rand.New(rand.NewPCG(11, 12))
	for name, f := range funcs {
		fn := reflect.ValueOf(f)
		for range 1000 {
			args := make([]reflect.Value, fn.Type().NumIn())
			for i := range args {
				args[i] = reflect.New(fn.Type().In(i)).Elem()
				hostile(r, args[i])
			}
			out := fn.Call(args)
			if !out[len(out)-1].IsNil() {
				continue
			}
			for _, o := range out[:len(out)-1] {
				if !finite(o) {
					t.Errorf("%s(%v) gave %v without an error", name, args, o)
				}
			}
		}
	}
}

// hostile fills v with numbers from good to absurd.
func hostile(r *rand.Rand, v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		all := [...]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -1, 1e300, 1e-300, 1, 0.5, 1e-3, 1e-6, 300, 1000, 1e5}
		v.SetFloat(all[r.IntN(len(all))])
	case reflect.Int:
		v.SetInt([...]int64{0, 1, 2, -1, 1 << 40}[r.IntN(5)])
	case reflect.Bool:
		v.SetBool(r.IntN(2) == 0)
	case reflect.Struct:
		for i := range v.NumField() {
			hostile(r, v.Field(i))
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1+r.IntN(2), 2))
		for i := range v.Len() {
			hostile(r, v.Index(i))
		}
	}
}

// finite reports whether every number in v is one.
func finite(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Float64:
		return !math.IsNaN(v.Float()) && !math.IsInf(v.Float(), 0)
	case reflect.Struct:
		for i := range v.NumField() {
			if !finite(v.Field(i)) {
				return false
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			if !finite(v.Index(i)) {
				return false
			}
		}
	}
	return true
}
