package outside

import (
	"go/parser"
	"go/token"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestNothingOfThisHouseIsImported: the mills outside the equations are not made
// of the equations.
func TestNothingOfThisHouseIsImported(t *testing.T) {
	t.Parallel()
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), f.Name(), nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		seen++
		for _, i := range tree.Imports {
			if path, err := strconv.Unquote(i.Path.Value); err != nil || strings.HasPrefix(path, "hopperful/") {
				t.Errorf("%s imports %s", f.Name(), i.Path.Value)
			}
		}
	}
	if seen < 5 {
		t.Errorf("only %d files looked at", seen)
	}
}

// TestEveryGramIsSomewhere: what went in is in the jar, in the mill or spilt, in
// every mill at every setting.
func TestEveryGramIsSomewhere(t *testing.T) {
	t.Parallel()
	var mills []*Mill
	for _, seed := range Seeds[Tuning](24) {
		mills = append(mills, New(seed))
	}
	rapid.Check(t, func(t *rapid.T) {
		of := rapid.IntRange(0, len(mills)-1).Draw(t, "mill")
		m := mills[of].Copy(Tuning(of).Chance(9))
		in, out := 0.0, 0.0
		for range rapid.IntRange(1, 4).Draw(t, "charges") {
			set := m.Usual
			set.Charge *= rapid.Float64Range(0.3, 2).Draw(t, "charge")
			set.Time *= rapid.Float64Range(0.2, 3).Draw(t, "time")
			if set.Level > 0 {
				set.Level = rapid.IntRange(1, m.Face.Levels).Draw(t, "level")
			}
			g := m.Run(set)
			in, out = in+set.Charge, out+g.Product+g.Spilt
			if off := in - out - m.Holds(); math.Abs(off) > 1e-9 {
				t.Fatalf("%g kg went in, %g came out, %g are held", in, out, m.Holds())
			}
			for name, v := range map[string]float64{"charge": g.Charge, "hottest": g.Hottest, "wall": g.Wall} {
				if v < m.Face.Room-0.5 || v > 650 || math.IsNaN(v) {
					t.Fatalf("%s at %g K in a room of %g K", name, v, m.Face.Room)
				}
			}
			if g.Energy <= 0 || !g.Stalled && (g.Fines <= 0 || g.Fines > 1 || g.D50 <= 0 || g.D50 > m.Face.Hole) {
				t.Fatalf("%+v", g)
			}
			m.Stand(rapid.Float64Range(0, 900).Draw(t, "rest"))
			if m.Holds() < 0 {
				t.Fatal("less than nothing is held")
			}
		}
	})
}

// TestAMakersSettingIsSane: every mill has a setting its owner can live with,
// and every oddity turns up.
func TestAMakersSettingIsSane(t *testing.T) {
	t.Parallel()
	seen := map[Kind]int{}
	for _, seed := range Seeds[Tuning](40) {
		m := New(seed)
		if !m.sane(m.Usual) {
			t.Errorf("mill %d is not sane at %+v", seed, m.Usual)
		}
		for _, k := range Kinds() {
			if m.Has(k) {
				seen[k]++
			}
		}
	}
	for _, k := range Kinds() {
		if seen[k] < 5 {
			t.Errorf("%d of 40 mills have %q", seen[k], k)
		}
	}
}

// TestKindsOfSeedsDoNotMeet: the same number makes two mills.
func TestKindsOfSeedsDoNotMeet(t *testing.T) {
	t.Parallel()
	for i := range 6 {
		a, b := New(Tuning(i)), New(Reporting(i))
		if a.Face == b.Face || a.t == b.t {
			t.Errorf("seed %d makes the same mill twice", i)
		}
		if again := New(Tuning(i)); again.t != a.t || again.Usual != a.Usual {
			t.Errorf("seed %d makes two mills", i)
		}
	}
}

// TestOdditiesShow: each does what it is there for.
func TestOdditiesShow(t *testing.T) {
	t.Parallel()
	usual := func() *Mill {
		m := New(Tuning(3)).Quiet()
		m.odd = [kinds]bool{}
		m.t.warm, m.t.smear, m.t.windage, m.t.s, m.t.tough, m.t.spillUp = math.Inf(1), 0, 0, 0, 0, 0
		m.t.emissivity, m.t.corner, m.t.crowd, m.t.fan, m.t.through = 1, 0, 1, 0, 400
		return m
	}
	set := usual().Usual
	set.Time = 60
	base := usual().Run(set)
	for _, c := range []struct {
		kind Kind
		with func(*truth)
		less func(base, odd Gave, m *Mill) bool
	}{
		{Warming, func(t *truth) { t.warm = 20 }, func(b, o Gave, _ *Mill) bool { return o.Product < 0.99*b.Product }},
		{Blinding, func(t *truth) { t.smear = 20 }, func(b, o Gave, m *Mill) bool { return o.Product < 0.99*b.Product && m.s.open < 0.9 }},
		{Windage, func(t *truth) { t.windage = 500 }, func(b, o Gave, _ *Mill) bool { return o.Energy > 1.05*b.Energy }},
		{Tough, func(t *truth) { t.tough = 0.3 }, func(b, o Gave, _ *Mill) bool { return o.Product < 0.97*b.Product }},
		{Spills, func(t *truth) { t.spillUp = 0.1 }, func(b, o Gave, _ *Mill) bool { return o.Spilt > 2*b.Spilt }},
		{Emissivity, func(t *truth) { t.emissivity = 0.6 }, func(b, o Gave, m *Mill) bool { return m.Shown(o.Wall) < o.Wall-0.3 && o.Wall == b.Wall }},
		{Corner, func(t *truth) { t.corner = 0.01 }, func(b, o Gave, _ *Mill) bool { return o.Left > b.Left+0.004 }},
		{Crowding, func(t *truth) { t.crowd = 0.2 }, func(b, o Gave, _ *Mill) bool { return math.Abs(o.Product/b.Product-1) > 0.01 }},
		{Fan, func(t *truth) { t.fan = 5 }, func(b, o Gave, _ *Mill) bool { return o.Wall < b.Wall-0.1 }},
		{SlowWall, func(t *truth) { t.through = 3 }, func(b, o Gave, _ *Mill) bool { return o.Wall < b.Wall-0.2 }},
	} {
		m := usual()
		c.with(&m.t)
		if odd := m.Run(set); !c.less(base, odd, m) {
			t.Errorf("%v does not show: %+v against %+v", c.kind, odd, base)
		}
	}
}
