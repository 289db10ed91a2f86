package colour

// A list of colours with their shares, as people write it: #1c1c1c 40, #f2f2ee 60.

import (
	"fmt"
	"strconv"
	"strings"

	"hopperful/quantity"
)

// MostPortions is how many colours one list may hold.
const (
	MostPortions = 24
	mostListText = 4000
	mostWeight   = 1e9
)

// Portion is one colour of a list.
type Portion struct {
	Colour RGB
	Weight float64 // what it counts against the others [–], or its mass [kg]; 0 or more
}

// PortionFault says why a list of colours cannot be read.
type PortionFault string

// The faults.
const (
	ListTooLong  PortionFault = "too long"
	ListEmpty    PortionFault = "empty"
	ListTooMany  PortionFault = "too many"
	NoSign       PortionFault = "no sign"       // a code begins with #
	NoCode       PortionFault = "no code"       // # and six digits or letters a to f
	NoWeight     PortionFault = "no weight"     // a share is no number
	NoBlank      PortionFault = "no blank"      // behind the code stands a blank, then the share
	MixedWeights PortionFault = "mixed weights" // all shares are written in one way: numbers, percent, masses, or none
	WeightBeyond PortionFault = "weight beyond" // a share is 0 or more, and no more than a thousand million
	AllNothing   PortionFault = "all nothing"   // all shares are 0
)

// PortionError says what is wrong with a list of colours, and where.
type PortionError struct {
	Entry int    // which colour, counted from 1; 0: the list as a whole
	Text  string // what stands there
	Why   PortionFault
}

// Error names the entry and says what a list looks like.
func (e *PortionError) Error() string {
	where := "the list of colours"
	if e.Entry > 0 {
		where = fmt.Sprintf("colour %d, %q,", e.Entry, shortened(e.Text))
	}
	return where + " cannot be read: " + string(e.Why) + "; write codes with their shares, as #1c1c1c 40, #f2f2ee 60"
}

// ParsePortions reads a list of colour codes, each with its share or mass behind
// it: bare numbers and percent count against each other, masses need their unit,
// and without any all count alike. Commas, semicolons, lines or blanks part them.
//
// Errors: *PortionError for anything else.
func ParsePortions(text string) ([]Portion, error) {
	whole := func(why PortionFault) error { return &PortionError{0, "", why} }
	if len(text) > mostListText {
		return nil, whole(ListTooLong)
	}
	pieces := strings.Split(text, "#")
	switch {
	case strings.Trim(pieces[0], " \t\r\n,;") != "":
		return nil, &PortionError{1, strings.TrimSpace(pieces[0]), NoSign}
	case len(pieces) == 1:
		return nil, whole(ListEmpty)
	case len(pieces)-1 > MostPortions:
		return nil, whole(ListTooMany)
	}
	var list []Portion
	how, sum := "", 0.0
	for i, piece := range pieces[1:] {
		wrong := func(why PortionFault) error {
			return &PortionError{i + 1, shortened("#" + strings.TrimSpace(piece)), why}
		}
		c, err := ParseHex("#" + piece[:min(6, len(piece))])
		if err != nil {
			return nil, wrong(NoCode)
		}
		weight, kind, why := readWeight(piece[6:])
		switch {
		case why != "":
			return nil, wrong(why)
		case i > 0 && kind != how:
			return nil, wrong(MixedWeights)
		case !(weight >= 0 && weight <= mostWeight):
			return nil, wrong(WeightBeyond)
		}
		how, sum = kind, sum+weight
		list = append(list, Portion{c, weight})
	}
	if !(sum > 0) {
		return nil, whole(AllNothing)
	}
	return list, nil
}

// readWeight reads what stands behind a code; why is "" when it was read.
func readWeight(text string) (weight float64, kind string, why PortionFault) {
	if text != "" && strings.IndexByte(" \t\r\n,;:=", text[0]) < 0 {
		return 0, "", NoBlank
	}
	text = strings.TrimLeft(text, " \t\r\n:=")
	text = strings.Trim(text, " \t\r\n,;")
	if text == "" {
		return 1, "alike", ""
	}
	kind = "number"
	if short, ok := strings.CutSuffix(text, "%"); ok {
		text, kind = strings.TrimSpace(short), "percent"
	}
	if v, err := quantity.Number.Parse(text); err == nil {
		return v, kind, ""
	}
	if v, err := quantity.Mass.Parse(text); err == nil && kind == "number" {
		return v, "mass", ""
	}
	return 0, "", NoWeight
}

// Portions is a list of colours.
type Portions []Portion

// String writes the list the way it is read.
func (l Portions) String() string {
	words := make([]string, len(l))
	for i, p := range l {
		code, _ := p.Colour.Hex()
		words[i] = code + " " + strconv.FormatFloat(p.Weight, 'g', 6, 64)
	}
	return strings.Join(words, ", ")
}
