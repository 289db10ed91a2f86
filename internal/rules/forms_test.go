package rules

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"hopperful/shop"
)

// TestEachKindOfRecordHasItsForm holds the rule for new kinds of record and new
// fields: each stands in internal/store/forms/N.txt, where N is the form of the
// file it came with. A program of an earlier form then says that a later version
// wrote the file, instead of taking what it does not know for damage.
//
// A new kind or field goes into the list of the newest form. Once a release has
// that form (testdata/formN.sqlite is there), it begins a new one: a list N+1.txt
// and a migration with that number, which may hold only a comment.
func TestEachKindOfRecordHasItsForm(t *testing.T) {
	t.Parallel()
	const folder = "../store"
	steps, err := filepath.Glob(folder + "/migration/*.sql")
	if err != nil {
		t.Fatal(err)
	}
	newest := len(steps)
	for n := 1; n <= newest; n++ {
		if _, err := os.Stat(fmt.Sprintf("%s/migration/%04d.sql", folder, n)); err != nil {
			t.Errorf("the steps have no gaps: %v", err)
		}
	}
	released := map[string]int{}
	for n := 1; ; n++ {
		text, err := os.ReadFile(fmt.Sprintf("%s/forms/%d.txt", folder, n))
		if err != nil {
			if n-1 != newest {
				t.Errorf("internal/store/forms ends with form %d, internal/store/migration with %d", n-1, newest)
			}
			break
		}
		for line := range strings.Lines(string(text)) {
			line, _, _ = strings.Cut(line, "#")
			kind, fields, _ := strings.Cut(strings.TrimSpace(line), ":")
			for _, f := range append(strings.Fields(fields), "") {
				if kind != "" && released[kind+" "+f] == 0 {
					released[kind+" "+f] = n
				}
			}
		}
		if _, err := os.Stat(fmt.Sprintf("%s/testdata/form%d.sqlite", folder, n)); err != nil && n < newest {
			t.Errorf("form %d is followed by another and has no file in internal/store/testdata: %v", n, err)
		}
	}
	now := map[string]bool{}
	for _, b := range shop.Bodies() {
		missing := []string{}
		now[b.Kind()+" "] = true
		for _, f := range jsonFields(reflect.TypeOf(b).Elem(), "", nil) {
			now[b.Kind()+" "+f] = true
			if released[b.Kind()+" "+f] == 0 {
				missing = append(missing, f)
			}
		}
		if len(missing) > 0 || released[b.Kind()+" "] == 0 {
			t.Errorf("add to internal/store/forms/%d.txt:\n%s: %s", newest, b.Kind(), strings.Join(missing, " "))
		}
	}
	for _, name := range slices.Sorted(maps.Keys(released)) {
		if !now[name] && released[name] < newest {
			t.Errorf("%q is in files of form %d and can no longer be read", name, released[name])
		} else if !now[name] {
			t.Errorf("take %q out of internal/store/forms/%d.txt: no record has it", name, released[name])
		}
	}
}

// jsonFields are the paths of the fields that a type is kept with.
func jsonFields(t reflect.Type, under string, on []reflect.Type) []string {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice || t.Kind() == reflect.Map {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct || t == reflect.TypeFor[time.Time]() || slices.Contains(on, t) {
		return nil
	}
	var list []string
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case name == "-" || !f.IsExported():
			continue
		case f.Anonymous && name == "":
			list = append(list, jsonFields(f.Type, under, append(on, t))...)
			continue
		case name == "":
			name = f.Name
		}
		list = append(list, under+name)
		list = append(list, jsonFields(f.Type, under+name+".", append(on, t))...)
	}
	return list
}
