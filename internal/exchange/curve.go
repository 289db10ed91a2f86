package exchange

import (
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"hopperful/fact"
)

// Curve is the light a plastic sends back as a table says it, in SI, with rising
// wavelengths.
type Curve struct {
	Wavelengths []float64     // [m]
	Light       []float64     // share sent back [1]
	Notes       []fact.Saying // what was taken how, for a person to check
}

// A curve as it is kept has no more than so many bands. One with more is averaged
// in steps of 5 nm over what an eye sees, which keeps every edge a plastic has
// (judgement).
const (
	MostBands  = 100
	curveStep  = 5.0 // [nm]
	firstSeen  = 360.0
	lastSeen   = 780.0
	mostNumber = 1e7 // above this no wavelength in nm is meant, nor a share
)

// What a heading of a column may say.
var (
	lengthWord = regexp.MustCompile(`(?i)wave|lambda|λ|^\s*\(?(nm|[µμu]m)\)?\s*$`)
	lightWord  = regexp.MustCompile(`(?i)reflect|remission|light|^\s*(r|r%|%r|%)\s*$`)
	micron     = regexp.MustCompile(`(?i)[µμu]m`)
)

// ReadCurve reads a table of wavelengths and the light sent back there: a line a
// wavelength, in nm unless the heading says µm; the light as a share or in %.
// size is the number of bytes if it is known, else negative; name is for messages
// only. Every error is an [*Error].
func ReadCurve(name string, r io.Reader, size int64) (Curve, error) {
	t, err := readTable(name, r, size, "")
	if err != nil {
		return Curve{}, err
	}
	b := curveBuilder{table: &t, length: 0, light: 1, nm: 1}
	if err := b.read(); err != nil {
		return Curve{}, err
	}
	return b.curve()
}

// curveBuilder makes a curve out of a table's lines.
type curveBuilder struct {
	*table
	length, light int     // columns
	nm            float64 // of the unit of the wavelengths
	percent       bool    // the table says so
	at            []int   // lines
	nms, lights   []float64
	notes         []fact.Saying
}

// read takes the heading, if there is one, and the numbers below it.
func (b *curveBuilder) read() error {
	for _, l := range b.lines {
		if len(b.at) == 0 && !b.numeric(l, b.length) {
			b.heading(l)
			continue
		}
		if err := b.row(l); err != nil {
			return err
		}
	}
	if len(b.at) == 0 {
		return &Error{File: b.name, What: fact.Say("exchange.no_wavelength"), Advice: fact.Say("exchange.do_line_a_wavelength")}
	}
	return nil
}

func (b *curveBuilder) numeric(l line, column int) bool {
	if column >= len(l.cells) {
		return false
	}
	_, err := strconv.ParseFloat(b.plain(l.cells[column]), 64)
	return err == nil
}

// heading finds the two columns; a line that names neither is a title.
func (b *curveBuilder) heading(l line) {
	length, light := -1, -1
	for i, c := range l.cells {
		switch {
		case length < 0 && lengthWord.MatchString(c):
			length = i
		case light < 0 && lightWord.MatchString(c):
			light = i
		}
	}
	if length < 0 && light < 0 {
		b.notes = append(b.notes, fact.Say("exchange.passed_over", fact.Name("line", strings.Join(l.cells, " "))))
		return
	}
	if length >= 0 {
		b.length = length
		if micron.MatchString(l.cells[length]) {
			b.nm = 1000
		}
	}
	if light < 0 {
		light = b.length + 1
	}
	b.light = light
	b.percent = light < len(l.cells) && strings.Contains(l.cells[light], "%")
}

// row reads one wavelength.
func (b *curveBuilder) row(l line) error {
	number := func(column int, word, advice fact.Saying) (float64, error) {
		if column >= len(l.cells) || l.cells[column] == "" {
			return 0, b.faultOf(l.number, column, word, fact.Say("exchange.number_missing"), advice)
		}
		text := strings.TrimSpace(strings.TrimSuffix(b.plain(l.cells[column]), "%"))
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || math.IsNaN(v) || math.Abs(v) > mostNumber {
			return 0, b.faultOf(l.number, column, word, fact.Say("exchange.no_number", fact.Name("text", l.cells[column])), advice)
		}
		return v, nil
	}
	nm, err := number(b.length, fact.Say("exchange.wavelength"), fact.Say("exchange.do_wavelength"))
	if err != nil {
		return err
	}
	light, err := number(b.light, fact.Say("exchange.reflectance"), fact.Say("exchange.do_reflectance"))
	if err != nil {
		return err
	}
	b.percent = b.percent || strings.HasSuffix(l.cells[b.light], "%")
	b.at, b.nms, b.lights = append(b.at, l.number), append(b.nms, nm*b.nm), append(b.lights, light)
	return nil
}

// curve puts the numbers in order.
func (b *curveBuilder) curve() (Curve, error) {
	if n := len(b.nms); n > 1 && b.nms[0] > b.nms[n-1] {
		slices.Reverse(b.at)
		slices.Reverse(b.nms)
		slices.Reverse(b.lights)
		b.notes = append(b.notes, fact.Say("exchange.longest_first"))
	}
	for i := range b.nms[1:] {
		if here, next := b.nms[i], b.nms[i+1]; !(next > here) {
			return Curve{}, b.faultOf(b.at[i+1], b.length, fact.Say("exchange.wavelength"), fact.Say("exchange.wavelength_order", fact.Name("here", digits(next)), fact.Name("before", digits(here))), fact.Say("exchange.do_wavelength_order"))
		}
	}
	if err := b.shares(); err != nil {
		return Curve{}, err
	}
	c := Curve{Notes: b.notes}
	c.Wavelengths, c.Light = b.nms, b.lights
	if len(b.nms) > MostBands {
		if c.average(); len(c.Wavelengths) == 0 {
			return Curve{}, &Error{File: b.name, What: fact.Say("exchange.unseen", fact.Name("first", digits(b.nms[0])), fact.Name("last", digits(b.nms[len(b.nms)-1]))),
				Advice: fact.Say("exchange.do_nm_first")}
		}
	}
	for i := range c.Wavelengths {
		c.Wavelengths[i] /= 1e9 // 680 nm is 6.8e-7 to the last digit
	}
	return c, nil
}

// shares turns percent into shares: when the table says so, or when no plastic
// could send back so much.
func (b *curveBuilder) shares() error {
	most := slices.Max(b.lights)
	if !b.percent && most > 2 { // even brightened plastics send back less than twice the light
		b.percent = true
		b.notes = append(b.notes, fact.Say("exchange.taken_as_percent"))
	}
	whole := 1.0
	if b.percent {
		whole = 100
	}
	for i, v := range b.lights {
		if !(v >= 0 && v <= whole) {
			return b.faultOf(b.at[i], b.light, fact.Say("exchange.reflectance"), fact.Say("exchange.no_share", fact.Name("light", digits(v)), fact.Name("whole", digits(whole))),
				fact.Say("exchange.do_white_tile"))
		}
		b.lights[i] = v / whole
	}
	return nil
}

// average brings a fine curve to steps of 5 nm.
func (c *Curve) average() {
	var at, light []float64
	for mid := firstSeen; mid <= lastSeen; mid += curveStep {
		sum, n := 0.0, 0
		for i, nm := range c.Wavelengths {
			if nm >= mid-curveStep/2 && nm < mid+curveStep/2 {
				sum, n = sum+c.Light[i], n+1
			}
		}
		if n > 0 {
			at, light = append(at, mid), append(light, sum/float64(n))
		}
	}
	c.Notes = append(c.Notes, fact.Say("exchange.averaged", fact.Count("n", len(c.Wavelengths)), fact.Name("step", digits(curveStep))))
	c.Wavelengths, c.Light = at, light
}

// digits is a number as it was written.
func digits(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
