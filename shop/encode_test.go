package shop

import (
	"encoding/json"
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"

	table "hopperful/shop/fields"
)

// TestEveryNumberHasABand walks the types of all bodies.
func TestEveryNumberHasABand(t *testing.T) {
	t.Parallel()
	used, kind := map[string]bool{}, ""
	var walk func(owner, name, path string, ty reflect.Type)
	walk = func(owner, name, path string, ty reflect.Type) {
		switch ty.Kind() {
		case reflect.Pointer, reflect.Slice:
			walk(owner, name, path, ty.Elem())
		case reflect.Struct:
			for i := range ty.NumField() {
				field, _, _ := strings.Cut(ty.Field(i).Tag.Get("json"), ",")
				if field == "" {
					t.Errorf("%s.%s has no JSON name", ty.Name(), ty.Field(i).Name)
				}
				walk(ty.Name(), field, strings.TrimPrefix(path+"."+field, "."), ty.Field(i).Type)
			}
		case reflect.Float64, reflect.Int, reflect.Int64:
			for known, plans := range fields { // from the table, where the record or its part has moved there
				for _, p := range plans {
					if known.Name() == owner && p.name == name && p.asked {
						if p.band.words == "" || p.band.lo >= p.band.hi {
							t.Errorf("%s of %s has no bounds", path, kind)
						}
						return
					}
				}
			}
			key := owner + "." + name
			if _, ok := bands[key]; !ok {
				key = name
			}
			if b, ok := bands[key]; !ok || b.words == "" || b.lo >= b.hi {
				t.Errorf("%s.%s has no band", owner, name)
			}
			used[key] = true
		case reflect.String, reflect.Bool:
		default:
			t.Errorf("%s.%s is a %s, which is not checked", owner, name, ty.Kind())
		}
	}
	for _, b := range Bodies() {
		kind = b.Kind()
		walk("", "", "", reflect.TypeOf(b).Elem())
	}
	for key := range bands {
		if !used[key] {
			t.Errorf("the band %s belongs to no number", key)
		}
	}
}

// TestDecodeIsStrict: what is not exactly a body is refused.
func TestDecodeIsStrict(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct{ kind, text, say string }{
		"unknown kind":   {"melted", `{}`, `There is no kind of record "melted".`},
		"unknown field":  {"weighed", `{"lot":"S1","mass_kg":1,"mas":2}`, `unknown field "mas"`},
		"wrong type":     {"weighed", `{"lot":"S1","mass_kg":"1"}`, "mass_kg of a weighed record cannot be a string."},
		"no JSON":        {"weighed", `lot S1`, "This is no weighed record"},
		"cut off":        {"weighed", `{"lot":"S1"`, "This is no weighed record"},
		"something more": {"weighed", `{"lot":"S1","mass_kg":1} {}`, "There is something after the end"},
		"too long":       {"discarded", `{"why":"` + strings.Repeat("x", mostBody) + `"}`, "bytes; 262144 fit"},
		"out of band":    {"weighed", `{"lot":"S1","mass_kg":-1}`, "The mass -1 kg is outside"},
		"null":           {"taken_in", `null`, `"" is no class of lot.`},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, err := Decode(c.kind, []byte(c.text))
			var e *Error
			if !errors.As(err, &e) || !strings.Contains(inWords(e), c.say) {
				t.Errorf("got %v, want %q", err, c.say)
			}
		})
	}
	if _, err := Encode(nil); err == nil {
		t.Error("nothing was encoded")
	}
	if _, err := Encode((*Ground)(nil)); err == nil {
		t.Error("a nil body was encoded")
	}
}

// FuzzDecode: whatever is decoded can be encoded, and reads back the same.
func FuzzDecode(f *testing.F) {
	for _, b := range Bodies() {
		text, err := json.Marshal(b)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b.Kind(), string(text))
	}
	f.Add("ground", `{"mill":"m","from":"S1","charge_kg":0.24,"product_kg":0.23,"run_s":180,"level":3,"stalled":true}`)
	f.Add("sorted", `{"from":"S1","into":[{"lot":"S2","pieces":{"wall_m":0.002},"mass_kg":0.1}],"metal_kg":0.01}`)
	for _, b := range []Body{stack(func(*Sieved) {}), full(func(*Sieved) {}), dried(func(*Dried) {}), cuts(func(*FlowTested) {}), nozzle(func(*FlowTested) {}),
		&JarWeighed{Lot: "R1", Jar: 3e-4, Poured: 0.15, Tapped: kg(0.17)}, &PassedMagnet{Lot: "R1", Run: 6, Metal: 1e-4}, &Dedusted{Lot: "R1", Dust: 0.01},
		taken(func(*Coloured) {}), &Coloured{Lot: "R1", How: Instrument, Lab: &TakenLab{50, 10, -20, 10}}, &Coloured{Lot: "R1", How: ByEye, RGB: "#1c1c1c"},
		&Printed{From: "R1", Into: "P7", Print: "hook", Mass: 0.1}, &Serviced{Mill: "plain", Part: BladePart, What: Replaced}, &Happened{What: Stalled, Mill: "plain", Lot: "S1"}} {
		text, err := json.Marshal(b)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b.Kind(), string(text))
	}
	f.Add("mill_set", `{"mill":{"name":"m","screen":{"hole_m":0.005},"controller":{"levels":5,"watts":[{"level":1,"w":300}]}}}`)
	f.Fuzz(func(t *testing.T, kind, text string) {
		b, err := Decode(kind, []byte(text))
		if err != nil {
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("%v is no refusal", err)
			}
			return
		}
		again, err := copied(b)
		if err != nil || !sameJSON(t, b, again) {
			t.Fatalf("%s did not survive: %v", text, err)
		}
		if s, err := workbench(t).With(Record{At: monday.AddDate(0, 0, 1), Body: b}); err == nil {
			laws(t, s)
		}
	})
}

func sameJSON(t *testing.T, a, b Body) bool {
	x, err1 := json.Marshal(a)
	y, err2 := json.Marshal(b)
	return err1 == nil && err2 == nil && string(x) == string(y)
}

// A field of the table is a field of its record: its path leads to a value of the
// kind it says, and no part of the record is left unasked.
func TestTheTableOfFieldsIsTheRecord(t *testing.T) {
	t.Parallel()
	for _, kind := range table.Kinds() {
		there := map[string]reflect.Type{}
		var walk func(path string, ty reflect.Type)
		walk = func(path string, ty reflect.Type) {
			for ty.Kind() == reflect.Pointer {
				ty = ty.Elem()
			}
			if ty.Kind() != reflect.Struct {
				there[strings.TrimPrefix(path, ".")] = ty
				return
			}
			for i := range ty.NumField() {
				name, _, _ := strings.Cut(ty.Field(i).Tag.Get("json"), ",")
				walk(path+"."+name, ty.Field(i).Type)
			}
		}
		walk("", kinds[kind])
		for _, f := range table.Of(kind) {
			ty, ok := there[f.Path]
			if !ok {
				t.Errorf("%s has no %s", kind, f.Path)
				continue
			}
			delete(there, f.Path)
			want := map[table.As]reflect.Kind{table.Amount: reflect.Float64, table.Whole: reflect.Int, table.Check: reflect.Bool, table.Levels: reflect.Slice}[f.As]
			if want == reflect.Invalid {
				want = reflect.String
			}
			if ty.Kind() != want || f.Label == "" {
				t.Errorf("%s: %s is a %s in the record and %s in the table, labelled %q", kind, f.Path, ty.Kind(), f.As, f.Label)
			}
			if c, ok := choices[ty]; ok && f.As == table.Pick {
				for _, o := range f.Pick {
					if !slices.Contains(c.list, o.Value) {
						t.Errorf("%s offers %q for %s, which the shop refuses", kind, o.Value, f.Path)
					}
				}
				if len(f.Pick) != len(c.list) {
					t.Errorf("%s offers %d answers to %s of %d", kind, len(f.Pick), f.Path, len(c.list))
				}
			}
		}
		for path := range there {
			t.Errorf("nobody is asked for %s of %s", path, kind)
		}
	}
}
