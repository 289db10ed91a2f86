package ageing

// What studies found a pass to do, and the chains of plastics that hydrolyse.

import (
	_ "embed"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"hopperful/source/rows"
)

// Property names what ages.
type Property string

// The properties of studies.csv.
const (
	MeltFlow        Property = "melt_flow_rate"
	TensileStrength Property = "tensile_strength"
	ImpactStrength  Property = "impact_strength"
	Toughness       Property = "toughness"
)

// Study is what one source says of a property after some passes over before.
type Study struct {
	Polymer   string // as in package polymer: "PLA", "PE-HD"
	Property  Property
	Passes    float64 // how many passes lie between [–]
	Ratio     float64 // property after over before [–]
	Low       float64 // low end of the ratio [–]
	High      float64 // high end of the ratio [–]
	Condition string
	Source    string // key of package source, or one of its words
	Place     string
	Mark      string // published, computed, from memory or judgement
}

// Chain is the number-average molar mass of a plastic that hydrolyses.
type Chain struct {
	Polymer string  // as in package polymer
	Molar   float64 // [kg/mol]
	Low     float64 // low end [kg/mol]
	High    float64 // high end [kg/mol]
	Source  string  // key of package source, or one of its words
	Place   string
	Mark    string // computed, from memory or judgement
}

// UnknownError says that nothing is known of a polymer or its property.
type UnknownError struct {
	Polymer  string
	Property Property
	Known    []string // what is known of this property
}

// Error says what was asked for and what is known.
func (e *UnknownError) Error() string {
	known := "no polymer"
	if len(e.Known) > 0 {
		known = strings.Join(e.Known, ", ")
	}
	return fmt.Sprintf("nothing is known of what a pass does to the %s of %q (known: %s): measure it before and after a pass",
		strings.ReplaceAll(string(e.Property), "_", " "), e.Polymer, known)
}

//go:embed studies.csv
var studiesText string

//go:embed chains.csv
var chainsText string

var (
	studies = sync.OnceValues(func() ([]Study, error) { return readStudies(studiesText) })
	chains  = sync.OnceValues(func() ([]Chain, error) { return readChains(chainsText) })
)

func numbers(fields ...string) ([]float64, error) {
	var all []float64
	for _, f := range fields {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil || !(v > 0) || math.IsInf(v, 0) {
			return nil, fmt.Errorf("%q is no number above 0", f)
		}
		all = append(all, v)
	}
	return all, nil
}

// ordered refuses a value outside its own range, and a value of no source.
func ordered(value, low, high float64, source, mark string) error {
	if !(low <= value && value <= high) {
		return fmt.Errorf("%g lies not in %g to %g", value, low, high)
	}
	if source == "" || mark == "" {
		return fmt.Errorf("no source or no mark")
	}
	return nil
}

func readStudies(text string) ([]Study, error) {
	var all []Study
	err := rows.Each("studies.csv", "polymer,property,passes,ratio,low,high,condition,source,place,mark", strings.NewReader(text), func(f []string) error {
		v, err := numbers(f[2], f[3], f[4], f[5])
		if err != nil {
			return err
		}
		all = append(all, Study{f[0], Property(f[1]), v[0], v[1], v[2], v[3], f[6], f[7], f[8], f[9]})
		return ordered(v[1], v[2], v[3], f[7], f[9])
	})
	return all, err
}

func readChains(text string) ([]Chain, error) {
	var all []Chain
	err := rows.Each("chains.csv", "polymer,molar,low,high,unit,source,place,mark", strings.NewReader(text), func(f []string) error {
		v, err := numbers(f[1], f[2], f[3])
		if err != nil {
			return err
		}
		if f[4] != "kg/mol" {
			return fmt.Errorf("the unit is %q, it must be kg/mol", f[4])
		}
		all = append(all, Chain{f[0], v[0], v[1], v[2], f[5], f[6], f[7]})
		return ordered(v[0], v[1], v[2], f[5], f[7])
	})
	return all, err
}

// Hydrolyses returns the chains of a plastic that water cuts in the melt, and
// whether it is one of those.
func Hydrolyses(polymer string) (Chain, bool) {
	all, _ := chains() // embedded; a test holds that it reads
	for _, c := range all {
		if c.Polymer == polymer {
			return c, true
		}
	}
	return Chain{}, false
}

// PerPass returns what one pass does to a property of a polymer, and the studies
// it rests on. The median is the mean of their logarithms, each weighed by its passes and by
// how like a printed part what was tested is; the range covers every study's own
// range, because they disagree.
//
// Errors: *UnknownError for a polymer or property nothing is known of.
func PerPass(polymer string, property Property) (Factor, []Study, error) {
	all, err := studies()
	if err != nil {
		return Factor{}, nil, err
	}
	var found []Study
	var known []string
	for _, s := range all {
		if s.Property != property {
			continue
		}
		if s.Polymer == polymer {
			found = append(found, s)
		}
		if !slices.Contains(known, s.Polymer) {
			known = append(known, s.Polymer)
		}
	}
	if len(found) == 0 {
		return Factor{}, nil, &UnknownError{polymer, property, known}
	}
	return pool(found), found, nil
}

func pool(found []Study) Factor {
	sum, weight := 0.0, 0.0
	low, high := math.Inf(1), 0.0
	for _, s := range found {
		// A study of n passes says the logarithm of one of them n times over.
		sum += s.likeness() * math.Log(s.Ratio)
		weight += s.likeness() * s.Passes
		// What is less like a print says less: its range is as much wider as the mean of
		// so many fewer studies would be. A judged range was judged for prints.
		wider := 1.0
		if s.Mark != "judgement" {
			wider = 1 / math.Sqrt(s.likeness())
		}
		low = min(low, math.Pow(s.Ratio*math.Pow(s.Low/s.Ratio, wider), 1/s.Passes))
		high = max(high, math.Pow(s.Ratio*math.Pow(s.High/s.Ratio, wider), 1/s.Passes))
	}
	return Factor{math.Exp(sum / weight), low, high}
}

// likeness is how much a study says of printed parts [–]: one of prints all, of filament
// or strands half, of mouldings a quarter, for a moulding is packed under pressure
// and has no seams between lines. Judgement.
func (s Study) likeness() float64 {
	switch {
	case strings.Contains(s.Condition, "printed"):
		return 1
	case strings.Contains(s.Condition, "mould"):
		return 0.25
	}
	return 0.5
}
