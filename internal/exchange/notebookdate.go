package exchange

import (
	"regexp"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
)

// DateOrder says which number of a date such as 3/5/2026 is the day.
type DateOrder string

// The orders.
const (
	OrderUnsaid DateOrder = ""
	DayFirst    DateOrder = "day-first"
	MonthFirst  DateOrder = "month-first"
)

var (
	yearFirst  = regexp.MustCompile(`^(\d{4})[-./](\d{1,2})[-./](\d{1,2})$`)
	withDots   = regexp.MustCompile(`^(\d{1,2})\.\s*(\d{1,2})\.?\s*(\d{4}|\d{2})?\.?$`)
	withStroke = regexp.MustCompile(`^(\d{1,2})[-/](\d{1,2})(?:[-/](\d{4}|\d{2}))?$`)
	dayMonth   = regexp.MustCompile(`^(\d{1,2})(?:\.|st|nd|rd|th)?\s*(\pL{3,})\.?,?\s*(\d{4}|\d{2})?$`)
	monthDay   = regexp.MustCompile(`^(\pL{3,})\.?\s*(\d{1,2})(?:st|nd|rd|th)?,?\s*(\d{4})?$`)
	weekday    = regexp.MustCompile(`^(?:mon|tue|wed|thu|fri|sat|sun|mo|di|mi|do|fr|sa|so)\pL*[.,]?\s+(.+)$`)
	clockAt    = regexp.MustCompile(`^(\d{1,2})(?:[:.h](\d{2}))?(?:[:.](\d{2}))?\s*(am|pm|a\.m\.|p\.m\.|uhr|h)?\s*(\d{2})?$`)
	serial     = regexp.MustCompile(`^\d{5}(\.\d+)?$`)
)

var months = wordsFor(map[time.Month]string{
	time.January: "jan|jän|january|januar|jänner", time.February: "feb|february|februar", time.March: "mar|mär|mrz|march|märz", time.April: "apr|april",
	time.May: "may|mai", time.June: "jun|june|juni", time.July: "jul|july|juli", time.August: "aug|august", time.September: "sep|sept|september",
	time.October: "oct|okt|october|oktober", time.November: "nov|november", time.December: "dec|dez|december|dezember",
})

// dating reads the dates of one notebook.
type dating struct {
	now   time.Time
	order DateOrder
	last  time.Time // midnight of the date read before; zero at first
	since bool      // the workbook counts days from 1904
	book  bool      // a workbook: days may be numbers
}

// orderIn finds out whether the day or the month stands first, once for the whole
// notebook, from the dates that leave no choice.
func orderIn(dates []string, said DateOrder) DateOrder {
	day, month := false, false
	for _, text := range dates {
		text, _ = splitClock(text)
		if m := withStroke.FindStringSubmatch(text); m != nil {
			a, _ := strconv.Atoi(m[1])
			b, _ := strconv.Atoi(m[2])
			day, month = day || a > 12, month || b > 12
		}
	}
	switch {
	case day && !month:
		return DayFirst
	case month && !day:
		return MonthFirst
	}
	return said
}

// splitClock parts a date from the time behind it.
func splitClock(text string) (date, clock string) {
	text = strings.TrimSpace(strings.Trim(text, ","))
	if i := strings.LastIndexAny(text, " T"); i > 5 && strings.ContainsRune(text[i:], ':') {
		return strings.TrimRight(text[:i], " ,T"), text[i+1:]
	}
	return text, ""
}

// read reads a date: midnight of it, and the time of day where one stands behind
// it. undecided says that the day or the month may stand first.
func (d *dating) read(text string) (at time.Time, clock string, undecided, ok bool) {
	if d.book && serial.MatchString(text) {
		v, _ := strconv.ParseFloat(text, 64)
		t, err := excelize.ExcelDateToTime(v, d.since)
		if err != nil {
			return at, "", false, false
		}
		t = t.Round(time.Second)
		at = time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, d.now.Location())
		if t.Hour() != 0 || t.Minute() != 0 {
			clock = t.Format("15:04:05")
		}
		d.last = at
		return at, clock, false, true
	}
	text, clock = splitClock(lower(text))
	if m := weekday.FindStringSubmatch(text); m != nil {
		text = m[1]
	}
	year, month, day := "", 0, 0
	number := func(s string) int { n, _ := strconv.Atoi(s); return n }
	switch {
	case yearFirst.MatchString(text):
		m := yearFirst.FindStringSubmatch(text)
		year, month, day = m[1], number(m[2]), number(m[3])
	case withDots.MatchString(text):
		m := withDots.FindStringSubmatch(text)
		day, month, year = number(m[1]), number(m[2]), m[3]
	case withStroke.MatchString(text):
		m := withStroke.FindStringSubmatch(text)
		day, month, year = number(m[1]), number(m[2]), m[3]
		switch {
		case d.order == MonthFirst:
			day, month = month, day
		case d.order == OrderUnsaid && day != month:
			return at, clock, true, true
		}
	case dayMonth.MatchString(text):
		m := dayMonth.FindStringSubmatch(text)
		day, month, year = number(m[1]), int(months[m[2]]), m[3]
	case monthDay.MatchString(text):
		m := monthDay.FindStringSubmatch(text)
		month, day, year = int(months[m[1]]), number(m[2]), m[3]
	}
	at = time.Date(d.year(year, time.Month(month), day), time.Month(month), day, 0, 0, 0, 0, d.now.Location())
	if month < 1 || day < 1 || int(at.Month()) != month || at.Day() != day {
		return time.Time{}, clock, false, false
	}
	d.last = at
	return at, clock, false, true
}

// halfYear is how far a date without a year may lie before the one above it before
// a new year is likelier than a step back.
const halfYear = 183 * 24 * time.Hour

// year is the year that is written, in full; where none is, that of the date
// above, else the latest that does not lie ahead.
func (d *dating) year(text string, month time.Month, day int) int {
	n, err := strconv.Atoi(text)
	switch {
	case err == nil && len(text) == 2:
		return 2000 + n
	case err == nil:
		return n
	}
	y := d.now.Year()
	if !d.last.IsZero() {
		y = d.last.Year()
		if t := time.Date(y, month, day, 0, 0, 0, 0, d.now.Location()); d.last.Sub(t) > halfYear && !t.AddDate(1, 0, 0).After(d.now) {
			y++
		}
		return y
	}
	if time.Date(y, month, day, 0, 0, 0, 0, d.now.Location()).After(d.now) {
		y--
	}
	return y
}

// clockOf reads a time of day, as people write it.
func clockOf(text string) (time.Duration, bool) {
	m := clockAt.FindStringSubmatch(lower(text))
	if m == nil || m[2] == "" && m[4] == "" {
		return 0, false
	}
	if m[5] != "" && (m[2] != "" || m[4] != "uhr" && m[4] != "h") {
		return 0, false
	}
	h, _ := strconv.Atoi(m[1])
	minute, _ := strconv.Atoi(m[2] + m[5])
	second, _ := strconv.Atoi(m[3])
	switch half := strings.ReplaceAll(m[4], ".", ""); {
	case half == "am" || half == "pm":
		if h < 1 || h > 12 {
			return 0, false
		}
		h %= 12
		if half == "pm" {
			h += 12
		}
	}
	if h > 23 || minute > 59 || second > 59 {
		return 0, false
	}
	return time.Duration(h)*time.Hour + time.Duration(minute)*time.Minute + time.Duration(second)*time.Second, true
}
