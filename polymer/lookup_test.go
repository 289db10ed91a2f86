package polymer

import (
	"errors"
	"strings"
	"testing"
)

func TestFindForgivesSpelling(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{
		"PLA": "PLA", " pla ": "PLA", "PLA+": "PLA", "polylactic acid": "PLA", "Poly-Lactide": "PLA",
		"pet-g": "PETG", "PET G": "PETG", "HDPE": "PE-HD", "pe hd": "PE-HD", "Nylon 12": "PA12", "nylon": "PA6",
		"pa 6": "PA6", "tpu_95a": "TPU", "polystyrene": "HIPS", "UNKNOWN": Unknown, "not known": Unknown,
	} {
		p, err := Find(name)
		if err != nil || p.Name != want {
			t.Errorf("Find(%q) = %q, %v; want %s", name, p.Name, err, want)
		}
	}
}

func TestFindNamesTheNearest(t *testing.T) {
	t.Parallel()
	for name, near := range map[string]string{"PLLAA": "PLA", "PETX": "PETG", "nylon 66": "PA6", "polypropilene": "PP", "": "PC"} {
		_, err := Find(name)
		var unknown *UnknownError
		if !errors.As(err, &unknown) {
			t.Errorf("Find(%q): %v is no UnknownError", name, err)
			continue
		}
		if len(unknown.Near) != 3 || name != "" && unknown.Near[0] != near {
			t.Errorf("Find(%q): nearest %v, want %s first", name, unknown.Near, near)
		}
		if !strings.Contains(err.Error(), name) {
			t.Errorf("Find(%q): %v does not name it", name, err)
		}
	}
}

func TestALongNameIsCutInTheMessage(t *testing.T) {
	t.Parallel()
	_, err := Find(strings.Repeat("pläst", 10_000))
	if err == nil || len(err.Error()) > 300 {
		t.Errorf("message of %d bytes", len(err.Error()))
	}
}

func TestAMissingValueIsAnError(t *testing.T) {
	t.Parallel()
	pvc, err := Find("PVC")
	if err != nil {
		t.Fatal(err)
	}
	_, err = pvc.Value(MeltLow)
	var missing *MissingError
	if !errors.As(err, &missing) || missing.Polymer != "PVC" || missing.Property != MeltLow {
		t.Errorf("got %v, want a MissingError", err)
	} else if want := "PVC: no melt_low"; err.Error() != want {
		t.Errorf("got %q", err)
	}
	if v, err := (Polymer{}).Value(Density); err == nil {
		t.Errorf("a material out of nowhere has density %g", v.Value)
	}
}

func TestValuesAreTheDefaults(t *testing.T) {
	t.Parallel()
	each(t, func(p Polymer) {
		for _, v := range p.Values() {
			if first := si(t, p, v.Property); first != v {
				t.Errorf("%s of %s is not its default", v.Property, p.Name)
			}
		}
	})
}

func TestEdits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct { // kitten/sitting is the textbook pair of Levenshtein's distance
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"", "pla", 3}, {"pla", "", 3}, {"pla", "pla", 0}, {"flaw", "lawn", 2}, {"ä", "a", 1}} {
		if got := edits(c.a, c.b); got != c.want {
			t.Errorf("edits(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func FuzzFind(f *testing.F) {
	for _, name := range append(Names(), "", "HDPE", "nylon 66", "\xff", "PLA+++", "聚乳酸") {
		f.Add(name)
	}
	f.Fuzz(func(t *testing.T, name string) {
		p, err := Find(name)
		if err == nil {
			again, err := Find(p.Name)
			if err != nil || again.Name != p.Name {
				t.Errorf("%q leads to %q, which leads to %q, %v", name, p.Name, again.Name, err)
			}
			return
		}
		if len(err.Error()) > 400 {
			t.Errorf("message of %d bytes", len(err.Error()))
		}
	})
}
