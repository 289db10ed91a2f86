package toolpath

// What is a letter and a digit, byte by byte; and packed files that swell, at their bounds.

import (
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"math"
	"strings"
	"testing"
)

func TestEveryByteIsALetterOrNot(t *testing.T) {
	t.Parallel()
	const letters, digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz", "0123456789"
	for i := range 256 {
		c := byte(i)
		if got := isLetter(c); got != (strings.IndexByte(letters, c) >= 0) {
			t.Errorf("byte %d is a letter: %t", i, got)
		}
		if got := isDigit(c); got != (strings.IndexByte(digits, c) >= 0) {
			t.Errorf("byte %d is a digit: %t", i, got)
		}
		want := uint8(slotNone)
		if at := strings.IndexByte("XYZEFIJKRPSTD", c&^0x20); at >= 0 && isLetter(c) {
			want = uint8(at)
		} else if isLetter(c) && strings.IndexByte("GMNgmn", c) < 0 {
			want = slotOther
		}
		if slotOf[c] != want {
			t.Errorf("byte %q has slot %d, wanted %d", c, slotOf[c], want)
		}
	}
}

// A packed file is refused where it unpacks to more than so many times its bytes, once it is large; told is what it may have.
func TestUnpackingStopsAtItsBounds(t *testing.T) {
	t.Parallel()
	var packed bytes.Buffer
	z := gzip.NewWriter(&packed)
	if _, err := z.Write(make([]byte, 1<<20)); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	for i, c := range []struct {
		before, packed int64
		fails          bool
	}{
		{0, 1, 1<<20 > bombStart}, {bombStart - 10, 1 << 40, false}, {bombStart - 10, 1, true}, {bombStart, bombStart / bombShare, true}, {bombStart, 2 * bombStart / bombShare, false},
		{mostUnpacked - 100, 1 << 40, false}, {mostUnpacked - 99, 1 << 40, true}, {mostUnpacked, 1 << 40, true},
	} {
		r, err := gzip.NewReader(bytes.NewReader(packed.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		u := &unpacker{z: r, packed: &counter{n: c.packed}, n: c.before}
		n, err := io.ReadFull(u, make([]byte, 100))
		var limit *LimitError
		if (err != nil) != c.fails && i > 0 || err != nil && (!errors.As(err, &limit) || limit.Limit != c.before+99 || limit.Packed != c.packed || n != 0) {
			t.Errorf("%d: after %d of %d packed: %d bytes, %v", i, c.before, c.packed, n, err)
		}
	}
}

// What a name of a comment says beside its unit; a file that counts in volume, read as filament, is told of.
func TestNamesAndUnitsOfComments(t *testing.T) {
	t.Parallel()
	for text, want := range map[string][2]string{
		"filament used [mm]": {"filament used", "mm"}, "filament used (cm3)": {"filament used", "cm3"}, "total filament_used [ g ]": {"filament used", "g"}, "filament-used\t": {"filament used", ""}, "[mm]": {"", "mm"}, "(g) a": {"", "g) a"}, "a[b](c)": {"a", "b](c"}, "": {"", ""},
	} {
		if name, unit := nameAndUnit(text); name != want[0] || unit != want[1] {
			t.Errorf("%q is %q in %q, wanted %q", text, name, unit, want)
		}
	}
	for e, told := range map[EMeaning]bool{EFilament: true, EUnsaid: false, EVolume: false} {
		s := Summary{Tools: []Tool{{Diameter: 1.75e-3}}, Stated: Stated{InVolume: true, Line: 7}}
		s.contradict(Options{E: e})
		want := Warning{Kind: SaysOtherwise, Line: 7, Count: 1, Of: Meaning}
		if len(s.Warnings) > 1 || told != (len(s.Warnings) == 1) || told && s.Warnings[0] != want {
			t.Errorf("read as %v: %+v", e, s.Warnings)
		}
	}
}

// A push on the spot smaller than anything is no melt: it is taken off what the tool has printed again, down to nothing.
func TestPushesOfNothing(t *testing.T) {
	t.Parallel()
	for _, volume := range []float64{5e-9, nothing / 4, 0} {
		for _, melt := range []float64{nothing / 2, nothing * 0.99, nothing * 1.01, 3e-9} {
			m := newMachine(Options{Diameter: 2e-3, Feed: 0.01, MaxLayers: 5, Window: 1})
			tool := &m.ext.tools[0]
			tool.volume = volume
			got := m.onTheSpot(&block{line: 3}, melt, 0)
			want, left := melt, volume
			if melt < nothing {
				want, left = 0, math.Max(0, volume-melt)
			}
			if got != want || math.Abs(tool.volume-left) > 1e-9*nothing {
				t.Errorf("%g m³ on %g: %g printed, %g in all; wanted %g and %g", melt, volume, got, tool.volume, want, left)
			}
		}
	}
}
