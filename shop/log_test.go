package shop

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestSeldomKindsAreFound looks for kinds in logs of some thousand records, forward and backward, and
// finds what going over each of them finds; and each record by its number.
func TestSeldomKindsAreFound(t *testing.T) {
	t.Parallel()
	looked := []Body{&Ground{}, &Sieved{}, &Void{}} // often, now and then, nearly never
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 3*inSort).Draw(t, "kept")
		o := &bygone{kinds: make([]byte, n)}
		for i := range o.kinds {
			o.kinds[i] = kindAt[(&Weighed{}).Kind()]
		}
		for _, at := range rapid.SliceOfN(rapid.IntRange(0, 3*inSort), 0, 5).Draw(t, "at") {
			if at < n {
				o.kinds[at] = kindAt[rapid.SampledFrom(looked).Draw(t, "kind").Kind()]
			}
		}
		if rapid.Bool().Draw(t, "full") {
			for i := inSort / 2; i < min(n, 2*inSort); i++ {
				o.kinds[i] = kindAt[(&Ground{}).Kind()]
			}
		}
		l := Log{old: o, n: rapid.IntRange(0, n).Draw(t, "n")}
		for range rapid.IntRange(0, 3).Draw(t, "more") {
			l.more = append(l.more, Record{Body: rapid.SampledFrom(looked).Draw(t, "later")})
		}
		set := setOf(looked[:rapid.IntRange(0, 3).Draw(t, "wanted")])
		var want, got, back []int
		for i := range l.Len() {
			if l.has(set, i) {
				want = append(want, i)
			}
		}
		for i := l.onward(set, 0); i < l.Len(); i = l.onward(set, i+1) {
			got = append(got, i)
		}
		for i := l.backward(set, l.Len()); i >= 0; i = l.backward(set, i) {
			back = append(back, i)
		}
		slices.Reverse(back)
		if !slices.Equal(got, want) || !slices.Equal(back, want) {
			t.Fatalf("of %d and %d records %v and %v, not %v", l.n, len(l.more), got, back, want)
		}
	})
}

// TestNumbersAndPlaces draws the numbers of records that stand, some struck out and some written late,
// keeps them and finds each again.
func TestNumbersAndPlaces(t *testing.T) {
	t.Parallel()
	mixed := 0
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 40).Draw(t, "written")
		var ids []RecordID
		for i := range n {
			if rapid.IntRange(0, 3).Draw(t, "stands") > 0 {
				ids = append(ids, RecordID(i+1))
			}
		}
		for range rapid.IntRange(0, 2).Draw(t, "late") {
			if len(ids) > 1 {
				from, to := rapid.IntRange(0, len(ids)-1).Draw(t, "from"), rapid.IntRange(0, len(ids)-1).Draw(t, "to")
				id := ids[from]
				ids = slices.Insert(slices.Delete(ids, from, from+1), to, id)
			}
		}
		var l Log
		for _, id := range ids {
			l.more = append(l.more, Record{ID: id, Body: &Void{}})
		}
		history := Log{old: &bygone{streaks: []streak{{0, 1}}, kinds: make([]byte, n)}, n: n}
		for i := range history.old.kinds {
			history.old.kinds[i] = byte(i)
		}
		p := &packer{}
		p.packStanding(l)
		u := &unpacker{b: p.b}
		k := u.standing(history)
		if u.err != nil || len(u.b) != 0 || k.Len() != len(ids) {
			t.Fatalf("%v became %d records, %v", ids, k.Len(), u.err)
		}
		for i, id := range ids {
			if k.id(i) != id || k.old.kinds[i] != byte(id-1) {
				t.Fatalf("at %d of %v is %d, of kind %d", i, ids, k.id(i), k.old.kinds[i])
			}
		}
		for id := RecordID(0); id <= RecordID(n)+1; id++ {
			for end := range len(ids) + 1 {
				if got, want := k.First(end).place(id), slices.Index(ids[:end], id); end > 0 && got != want {
					t.Fatalf("%d is at %d of the first %d of %v, not %d", id, got, end, ids, want)
				}
			}
		}
		if !slices.IsSorted(ids) {
			mixed++
		}
	})
	if mixed < 10 {
		t.Errorf("only %d were out of order", mixed)
	}
}

// TestNumbersThatCannotBeAreRefused: more records than were written, or others.
func TestNumbersThatCannotBeAreRefused(t *testing.T) {
	t.Parallel()
	history := Log{old: &bygone{streaks: []streak{{0, 1}}, kinds: make([]byte, 5)}, n: 5}
	for name, numbers := range map[string][]uint64{
		"all is well":      {3, 2, 0, 1, 2, 4, 0},
		"more than all":    {6, 1, 0, 1, 0},
		"none of some":     {2, 0, 0},
		"from 0":           {3, 1, 0, 0, 0},
		"beyond the end":   {3, 1, 0, 4, 0},
		"not from nothing": {3, 1, 1, 1, 0},
		"back":             {3, 2, 0, 1, 0, 4, 0},
		"farther than all": {3, 2, 0, 1, 4, 4, 0},
	} {
		p := &packer{}
		for _, n := range numbers {
			p.uint(n)
		}
		u := &unpacker{b: p.b}
		if u.standing(history); (u.err == nil) != (name == "all is well") {
			t.Errorf("%s: %v", name, u.err)
		}
	}
}

// TestPlacesOfLabels finds each label of a list, and none that is not there.
func TestPlacesOfLabels(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		ids := rapid.SliceOfDistinct(rapid.Map(rapid.StringMatching(`[SRVBP][0-9]{1,3}`), func(s string) LotID { return LotID(s) }),
			func(id LotID) LotID { return id }).Draw(t, "ids")
		p := placesOf(ids)
		for i, id := range ids {
			if at, ok := p.of(id); !ok || int(at) != i {
				t.Fatalf("%s of %v is at %d, %t", id, ids, at, ok)
			}
		}
		for _, id := range []LotID{"", "S", "S1234", "X1"} {
			if at, ok := p.of(id); ok {
				t.Fatalf("%s is at %d of %v", id, at, ids)
			}
		}
	})
}
