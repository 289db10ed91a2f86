package checkrow

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hopperful/process"
)

const head = "case,inputs,wanted,tolerance,kind,source,place\n"

func TestReadRefusesWhatIsNoCheckRow(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"":                               "EOF",
		"case,inputs\n":                  "wrong number of fields",
		"a,b,c,d,e,f,g\n":                "the header is",
		head + "F,,1,abs 0,guess,own,\n": `line 2: kind "guess" is none of`,
		head + "F,,1,abs 0,identity,,\n": "line 2: no source",
		head + "F,,1\n":                  "wrong number of fields",
	} {
		if rows, err := Read(strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q gave %v, %v; wanted %q", text, rows, err, want)
		}
	}
	rows, err := Read(strings.NewReader(head + "# a remark\nF/x,a=1,2,abs 0,identity,own derivation,\n"))
	if err != nil || len(rows) != 1 || rows[0].Line != 3 || rows[0].Case != "F/x" {
		t.Errorf("got %+v, %v", rows, err)
	}
}

func TestCheckHoldsResultAgainstTolerance(t *testing.T) {
	t.Parallel()
	sum := func(in Inputs) ([]float64, error) {
		if in.Has("fail") {
			return nil, os.ErrInvalid
		}
		total := 0.0
		for _, v := range in.List("a") {
			total += v
		}
		return []float64{total, in.Num("b")}, nil
	}
	for _, c := range []struct{ inputs, wanted, tolerance, says string }{
		{"a=[1 2]; b=4", "[3 4]", "abs 0", ""},
		{"a=[1 2]; b=4", "[3.1 4]", "abs 0.11: printed digits", ""},
		{"a=[1 2]; b=4", "[3.1 4]", "abs 0.09", "number 1: got 3, wanted 3.1"},
		{"a=[1 2]; b=-4", "[3 -4.1]", "rel 0.03", ""},
		{"a=[1 2]; b=-4", "[3 -4.1]", "rel 0.02", "number 2"},
		{"a=[1 2]; b=4", "3", "abs 0", "got 2 numbers"},
		{"a=[1 2]; b=4", "error", "abs 0", "wanted a refusal"},
		{"a=1; b=4; fail=yes", "error", "abs 0", ""},
		{"a=1; b=4; fail=yes", "[1 4]", "abs 0", "invalid"},
		{"a", "1", "abs 0", "is not name=value"},
		{"a=1; b=2", "one", "abs 0", "wanted: "},
		{"a=1; b=2", "[1 2]", "about 3", "neither abs, rel nor factor"},
		{"a=1; b=2", "[1 2]", "abs", "tolerance"},
	} {
		err := Row{Inputs: c.inputs, Wanted: c.wanted, Tolerance: c.tolerance}.Check(sum)
		if (c.says == "") != (err == nil) || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v gave %v", c, err)
		}
	}
}

// A miss is told as long as it is one: met, or broken otherwise, the row fails.
func TestAMissIsHeldToBeOne(t *testing.T) {
	t.Parallel()
	one := func(in Inputs) ([]float64, error) { return []float64{in.Num("a")}, nil }
	for _, c := range []struct{ a, says string }{{"4", ""}, {"0.9", "is met now"}, {"2", "is met now"}, {"[1 2]", "panic"}} {
		err := func() (err error) {
			defer func() {
				if r := recover(); r != nil {
					err = os.ErrInvalid
				}
			}()
			return Row{Inputs: "a=" + c.a, Wanted: "1", Tolerance: "factor 2", Kind: Missed}.Check(one)
		}()
		if (c.says == "") != (err == nil) || c.says == "is met now" && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v gave %v", c, err)
		}
	}
}

func TestReadFileNamesTheFile(t *testing.T) {
	t.Parallel()
	name := filepath.Join(t.TempDir(), "checks.csv")
	if _, err := ReadFile(name); err == nil || !strings.Contains(err.Error(), name) {
		t.Errorf("a missing file gave %v", err)
	}
	if err := os.WriteFile(name, []byte(head+"F,,1,abs 0,guess,own,\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadFile(name); err == nil || !strings.Contains(err.Error(), name+": check rows: line 2") {
		t.Errorf("a bad file gave %v", err)
	}
}

func TestCountNamesTheStrongestGroundFirst(t *testing.T) {
	t.Parallel()
	rows := []Row{{Kind: "identity"}, {Kind: "published"}, {Kind: "identity"}}
	if got := Count(rows); got != "3 rows: 1 published, 2 identity." {
		t.Errorf("got %q", got)
	}
	if got := Count(nil); got != "No rows." {
		t.Errorf("got %q", got)
	}
}

// A range is held at both ends: one told too wide or too narrow is noticed, and so is a
// function that refuses what lies inside.
func TestRangesAreHeld(t *testing.T) {
	t.Parallel()
	rows := []Row{{Case: "f/one", Inputs: "x=0.5; y=1; z=[0.5 7]; n=3"}}
	funcs := map[string]Func{"f": func(in Inputs) ([]float64, error) {
		return nil, errors.Join(process.Within("x", in.Num("x"), 0, 2, "", ""), process.Above("y", in.Num("y"), 0, "", ""),
			process.Within("z", in.List("z")[0], -1, 1, "", ""), process.Within("n", in.Num("n"), 1, 9, "", ""))
	}}
	for _, c := range []struct {
		line []string
		ok   bool
	}{
		{[]string{"f/one", "x", "0", "2"}, true}, {[]string{"f/one", "y", "0", ""}, true}, {[]string{"f/one", "z[0]", "-1", "1"}, true}, {[]string{"f/one", "y#", "0", ""}, false}, {[]string{"f/one", "n#", "1", "9"}, true}, {[]string{"f/one", "n#", "1", "8"}, false}, {[]string{"f/one", "x", "0", "4"}, false},
		{[]string{"f/one", "x", "0.1", "2"}, false}, {[]string{"f/one", "x", "", "2"}, false}, {[]string{"f/two", "x", "0", "2"}, false},
		{[]string{"f/one", "v", "0", "2"}, false}, {[]string{"f/one", "v[0]", "0", "2"}, false}, {[]string{"f/one", "x", "0", "two"}, false},
	} {
		if err := holdRange(rows, funcs, c.line); (err == nil) != c.ok {
			t.Errorf("%q: %v", c.line, err)
		}
	}
	funcs["f"] = func(in Inputs) ([]float64, error) {
		if v := in.Num("x"); v > 1 || v < 0 {
			return nil, &process.RangeError{Name: "x", Value: v, Lo: 0, Hi: 2}
		}
		return nil, nil
	}
	if holdRange(rows, funcs, []string{"f/one", "x", "0", "2"}) == nil {
		t.Error("2 less a little is refused, which the range holds")
	}
}
