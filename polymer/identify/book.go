package identify

import (
	"embed"
	"fmt"
	"io"
	"sync"

	"hopperful/polymer"
	"hopperful/source/rows"
)

//go:embed points.csv slopes.csv candidates.csv densities.csv sticks.csv chances.csv tests.csv
var files embed.FS

// table walks one of the embedded tables.
func table(name, header string, each func(f []string) error) error {
	file, err := files.Open(name)
	if err != nil {
		return err
	}
	defer file.Close()
	return rows.Each(name, header, file, each)
}

// Candidate is one thing a piece may be.
type Candidate struct {
	Name    string  // "PLA annealed"
	Polymer string  // its name in package polymer; [polymer.Unknown] for what is not listed
	Grade   string  // "annealed"; empty for the usual grade
	Prior   float64 // share of failed prints [1], before anything is known
	density normal  // [kg/m³]; no spread for what is not listed
	onset   normal  // where it begins to stick to hot metal [K]; no spread for what is not listed
}

// normal is a normal distribution.
type normal struct{ mean, spread float64 }

// Kind says what sort of test it is.
type Kind string

// The kinds of test.
const (
	Bench Kind = "bench" // by hand or in hot water
	Look  Kind = "look"  // by ear, eye or finger: says little
	Float Kind = "float" // a solid chip in a liquid
	Hot   Kind = "hot"   // on hot metal
)

// Test is something that can be tried at a bench.
type Test struct {
	Name    string  // "limp70", "floats"
	Liquid  Liquid  // of a float test
	At      float64 // density of the liquid [kg/m³] or temperature of the metal [K]
	Kind    Kind
	Seconds float64 // how long it takes, liquid at hand
}

// Book is what findings are worth. It never changes once built.
type Book struct {
	Candidates []Candidate
	Tests      []Test
	chances    map[string][]float64 // test → chance of yes, one a candidate
}

// Books returns the book that comes with the program.
func Books() *Book { return books() }

var books = sync.OnceValue(func() *Book {
	b, err := load()
	if err != nil {
		panic("identify: the embedded tables do not load: " + err.Error())
	}
	return b
})

// unlisted is the chance of every finding for what the book does not list:
// nothing is known, so nothing is said.
const unlisted = 0.5

func load() (*Book, error) {
	b := &Book{chances: map[string][]float64{}}
	for _, part := range []struct {
		file, header string
		each         func(f []string) error
	}{
		{"candidates.csv", "candidate,polymer,grade,prior,source,place,mark", b.addCandidate},
		{"densities.csv", "candidate,mean,spread,source,place,mark", func(f []string) error {
			return b.addNormal(f, 700, 2000, 0, func(c *Candidate) *normal { return &c.density })
		}},
		{"sticks.csv", "candidate,onset,spread,source,place,mark", func(f []string) error {
			return b.addNormal(f, 30, 300, zero, func(c *Candidate) *normal { return &c.onset })
		}},
		{"tests.csv", "test,liquid,at,kind,minutes,source,place,mark", b.addTest},
		{"chances.csv", chancesHeader, b.addChance},
	} {
		if err := table(part.file, part.header, part.each); err != nil {
			return nil, err
		}
	}
	for test, chances := range b.chances {
		for i, c := range b.Candidates {
			if chances[i] == 0 {
				return nil, fmt.Errorf("chances.csv has no line for %s of %s", test, c.Name)
			}
		}
	}
	return b, nil
}

func (b *Book) addCandidate(f []string) error {
	prior, err := between("prior", f[3], 0.01, 100)
	if err != nil {
		return err
	}
	p, err := polymer.Find(f[1])
	if err != nil {
		return err
	}
	b.Candidates = append(b.Candidates, Candidate{Name: f[0], Polymer: p.Name, Grade: f[2], Prior: prior / 100})
	return polymer.Mark(f[6]).Fit(f[4])
}

// index is the place of a candidate in the book.
func (b *Book) index(name string) (int, error) {
	for i, c := range b.Candidates {
		if c.Name == name {
			return i, nil
		}
	}
	return 0, fmt.Errorf("column candidate: %q is not listed in candidates.csv", clip(name))
}

func (b *Book) addNormal(f []string, lo, hi, offset float64, of func(*Candidate) *normal) error {
	i, err := b.index(f[0])
	if err != nil {
		return err
	}
	mean, err := between("mean", f[1], lo, hi)
	if err != nil {
		return err
	}
	spread, err := between("spread", f[2], 1, 100)
	if err != nil {
		return err
	}
	*of(&b.Candidates[i]) = normal{mean + offset, spread}
	return polymer.Mark(f[5]).Fit(f[3])
}

func (b *Book) addTest(f []string) error {
	minutes, err := between("minutes", f[4], 0.1, 60)
	if err != nil {
		return err
	}
	t := Test{Name: f[0], Kind: Kind(f[3]), Seconds: 60 * minutes}
	switch t.Kind {
	case Float:
		if t.Liquid, err = FindLiquid(f[1]); err == nil {
			t.At, err = between("at", f[2], 700, 1500)
		}
	case Hot:
		t.At, err = between("at", f[2], 40, 300)
		t.At += zero
	case Bench, Look:
	default:
		err = fmt.Errorf("column kind: %q is no kind of test", f[3])
	}
	if err != nil {
		return err
	}
	b.Tests = append(b.Tests, t)
	return polymer.Mark(f[7]).Fit(f[5])
}

// chancesHeader is the first line of a table of chances.
const chancesHeader = "test,candidate,chance,source,place,mark"

// addChance takes a line of chances.csv.
func (b *Book) addChance(f []string) error {
	known := false
	for _, t := range b.Tests {
		known = known || t.Name == f[0] && (t.Kind == Bench || t.Kind == Look)
	}
	if !known {
		return fmt.Errorf("column test: %q is no test with chances in tests.csv", clip(f[0]))
	}
	i, err := b.index(f[1])
	if err != nil {
		return err
	}
	chance, err := between("chance", f[2], 0.1, 99.9)
	if err != nil {
		return err
	}
	if b.chances[f[0]] == nil {
		all := make([]float64, len(b.Candidates))
		for j, c := range b.Candidates {
			if c.Polymer == polymer.Unknown {
				all[j] = unlisted
			}
		}
		b.chances[f[0]] = all
	}
	b.chances[f[0]][i] = chance / 100
	return polymer.Mark(f[5]).Fit(f[3])
}

// With returns a book with a shop's own chances on top, read in the form of
// chances.csv (chances in per cent, 0.1 to 99.9). name is the file's name for
// messages. Every fault names file and line.
func (b *Book) With(name string, r io.Reader) (*Book, error) {
	own := &Book{Candidates: b.Candidates, Tests: b.Tests, chances: map[string][]float64{}}
	for test, chances := range b.chances {
		own.chances[test] = append([]float64(nil), chances...)
	}
	return own, rows.Each(name, chancesHeader, r, own.addChance)
}
