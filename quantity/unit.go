package quantity

import (
	"math/big"
	"strings"
	"unicode"
)

// unit is one line of the closed unit table: SI = (number + shift) · factor.
type unit struct {
	kind   Kind
	symbol string   // as shown
	factor string   // exact: a decimal or a fraction of integers
	source string   // whose factor it is: a key of the bibliography
	also   []string // further spellings that are read
	shift  string   // affine units only (°C, °F); "" is none
}

// entry is a unit with its factor worked out.
type entry struct {
	unit
	factor, shift *big.Rat
}

// registry is the table looked up by kind and folded spelling.
type registry struct {
	byKind   map[Kind][]*entry
	spelling map[Kind]map[string]*entry
}

var units = register(table)

// register works out the factors. The table is ours and tested line by line, so
// a slip in it stops the program at its start rather than giving wrong numbers.
func register(lines []unit) registry {
	r := registry{map[Kind][]*entry{}, map[Kind]map[string]*entry{}}
	for _, u := range lines {
		e := &entry{unit: u, factor: rat(u.factor), shift: new(big.Rat)}
		if u.shift != "" {
			e.shift = rat(u.shift)
		}
		r.byKind[u.kind] = append(r.byKind[u.kind], e)
		if r.spelling[u.kind] == nil {
			r.spelling[u.kind] = map[string]*entry{}
		}
		for _, s := range append([]string{u.symbol}, u.also...) {
			key := fold(s)
			if _, twice := r.spelling[u.kind][key]; twice {
				panic("unit table: " + u.kind.String() + " has the spelling " + s + " twice")
			}
			r.spelling[u.kind][key] = e
		}
	}
	return r
}

func rat(text string) *big.Rat {
	v, ok := new(big.Rat).SetString(text)
	if !ok {
		panic("unit table: not a factor: " + text)
	}
	return v
}

// find returns the unit a spelling means for this kind. Upper and lower case
// may be mixed up where only one unit fits, but never m and M in front: mPa and
// MPa are nine powers of ten apart.
func (r registry) find(k Kind, spelling string) (*entry, bool) {
	key := fold(spelling)
	if e, ok := r.spelling[k][key]; ok {
		return e, true
	}
	var hit *entry
	for s, e := range r.spelling[k] {
		if !strings.EqualFold(s, key) || milliMega(s, key) {
			continue
		}
		if hit != nil && hit != e {
			return nil, false
		}
		hit = e
	}
	return hit, hit != nil
}

func milliMega(a, b string) bool {
	return a != "" && b != "" && a[0] != b[0] && (a[0] == 'm' || a[0] == 'M')
}

// owner returns the first other kind that knows the spelling.
func (r registry) owner(k Kind, spelling string) (Kind, bool) {
	key := fold(spelling)
	for _, other := range Kinds() {
		if _, ok := r.spelling[other][key]; ok && other != k {
			return other, true
		}
	}
	return 0, false
}

// plain maps the characters people and word processors use for the same thing
// onto one of them.
var plain = strings.NewReplacer(
	"\u00a0", " ", "\u202f", " ", "\u2009", " ", "\u2007", " ", "\u200a", " ", "\t", " ",
	"−", "-", "–", "-", "²", "2", "³", "3", "^", "", "⁻¹", "-1",
	"º", "°", "˚", "°", "℃", "°C", "℉", "°F", "µ", "u", "μ", "u",
	"·", "*", "⋅", "*", "×", "*", "∶", ":", "％", "%",
)

// fold brings a unit's spelling into the form it is looked up by: a space or a
// raised dot between two letters becomes "*" (a product), other spaces go.
func fold(spelling string) string {
	runes := []rune(strings.TrimSpace(plain.Replace(spelling)))
	var out []rune
	for i := 0; i < len(runes); {
		if runes[i] != ' ' && runes[i] != '*' {
			out = append(out, runes[i])
			i++
			continue
		}
		j := i
		for j < len(runes) && (runes[j] == ' ' || runes[j] == '*') {
			j++
		}
		product := len(out) > 0 && j < len(runes) && wordEnd(out[len(out)-1]) && unicode.IsLetter(runes[j])
		if product && !countBefore(out) {
			out = append(out, '*')
		}
		i = j
	}
	return string(out)
}

func wordEnd(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) || r == ')' }

// countBefore reports whether what stands before a gap ends in a count, as the
// 10 of "g/10 min", and not in a power, as the 2 of "m2 K".
func countBefore(before []rune) bool {
	n := len(before)
	if !unicode.IsDigit(before[n-1]) {
		return false
	}
	for n > 0 && unicode.IsDigit(before[n-1]) {
		n--
	}
	return n == 0 || !unicode.IsLetter(before[n-1])
}

// Units returns the units a number of this kind may be written in, one spelling
// each, in the order in which a workshop would try them. Parse reads further
// spellings of the same units ("g/cm3", "sec").
func (k Kind) Units() []string {
	var all []string
	for _, e := range units.byKind[k] {
		if e.symbol != "1" {
			all = append(all, e.symbol)
		}
	}
	return all
}
