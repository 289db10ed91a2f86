package shop

import (
	"reflect"
	"slices"
	"sort"
	"strings"
)

// A mill is described more than once: because it was changed, or because it is
// better known. What was changed begins a chapter, and the runs before it keep
// the mill they were ground with; what is better known was always so, and holds
// for all runs.

// Means says what a later description of a mill is.
type Means string

// The meanings.
const (
	ByProperty Means = ""           // another screen, rotor or jar is a change, all else is better knowledge
	ChangedNow Means = "change"     // whatever differs was changed at that moment
	AlwaysSo   Means = "correction" // whatever differs was always so
)

// exchanged are the parts of a mill that are taken out and put in: a new value of
// one of them is a change unless it is said to be a correction. Judgement.
var exchanged = []string{"screen.hole_m", "screen.open_share", "rotor_m", "rotor_rad_s", "rotor_kg", "jar_m3"}

// described is one description of a mill.
type described struct {
	record RecordID
	mill   Mill
	means  Means
	before int // how many runs were before it
}

// property is one answer of a mill's description.
type property struct {
	name string // in JSON
	at   []int  // index of the field, and of the field in it
}

// properties are all answers about a mill but its name.
var properties = func() []property {
	var list []property
	var walk func(t reflect.Type, before string, at []int)
	walk = func(t reflect.Type, before string, at []int) {
		for i := range t.NumField() {
			name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
			here := append(slices.Clone(at), i)
			switch f := t.Field(i).Type; {
			case name == "name":
			case f.Kind() == reflect.Struct:
				walk(f, before+name+".", here)
			default:
				list = append(list, property{before + name, here})
			}
		}
	}
	walk(reflect.TypeFor[Mill](), "", nil)
	return list
}()

// of is the property's value.
func (p property) of(m *Mill) reflect.Value { return reflect.ValueOf(m).Elem().FieldByIndex(p.at) }

// changes are the properties that a description changed, against the one before it.
func changes(before, after described) []property {
	var list []property
	for _, p := range properties {
		old, now := p.of(&before.mill), p.of(&after.mill)
		// What nobody had said was not another before it was said.
		if old.IsZero() || reflect.DeepEqual(old.Interface(), now.Interface()) {
			continue
		}
		if after.means == ChangedNow || after.means == ByProperty && slices.Contains(exchanged, p.name) {
			list = append(list, p)
		}
	}
	return list
}

// describe takes a description of the mill up.
func (m *MillState) describe(r Record, b *MillSet) {
	m.Mill = b.Mill
	m.told = append(slices.Clip(m.told), described{r.ID, b.Mill, b.Means, len(m.Runs)})
}

// under is the number of the description that a run was ground under, counted as the runs are.
func (m *MillState) under(run int) int {
	later := sort.Search(len(m.told), func(i int) bool { return m.told[i].before > run })
	return later - 1
}

// at is the mill under its description of that number: what was changed since is
// as it was then, what is better known is as it is known now.
func (m *MillState) at(told int) Mill {
	then := m.Mill
	for i := len(m.told) - 1; i > max(told, 0); i-- {
		for _, p := range changes(m.told[i-1], m.told[i]) {
			p.of(&then).Set(p.of(&m.told[i-1].mill))
		}
	}
	return then
}

// MillAt is the mill as it was at a run; false when the record is no run that
// stands.
func (s *State) MillAt(run RecordID) (Mill, bool) {
	r, stands := s.Record(run)
	b, ground := r.Body.(*Ground)
	if !stands || !ground {
		return Mill{}, false
	}
	return s.MillDuring(b.Mill, run)
}

// MillDuring is the mill of that name as it was at a run of it; false when it had no such run.
func (s *State) MillDuring(mill string, run RecordID) (Mill, bool) {
	i := s.millIndex(mill)
	if i < 0 {
		return Mill{}, false
	}
	k, ok := numbered(s.Mills[i].Runs, run)
	if !ok {
		return Mill{}, false
	}
	return s.Mills[i].at(s.Mills[i].under(k)), true
}

// numbered is where a number is in a list whose order is nearly always that of the
// numbers.
func numbered(list []RecordID, id RecordID) (int, bool) {
	if i, ok := slices.BinarySearch(list, id); ok {
		return i, true
	}
	i := slices.Index(list, id)
	return i, i >= 0
}

// Changed are the properties of a mill, by their JSON names, that a record of its
// description changed: "screen.hole_m". None for the first description, and for one that only
// says what was always so.
func (s *State) Changed(set RecordID) []string {
	var names []string
	for i := range s.Mills {
		for k := 1; k < len(s.Mills[i].told); k++ {
			if s.Mills[i].told[k].record != set {
				continue
			}
			for _, p := range changes(s.Mills[i].told[k-1], s.Mills[i].told[k]) {
				names = append(names, p.name)
			}
		}
	}
	return names
}
