package forms

import (
	"fmt"
	"net/http"
	"net/url"
	"time"

	"hopperful/internal/say"
	"hopperful/process/colour"
	"hopperful/shop"
)

// Asked reads what an address asks with, by the fields of a sheet that only asks.
// What cannot be read is left in the input, for the sheet to point at.
type Asked struct {
	In      *Input
	Numbers map[string]float64
	Words   map[string]string
	Colours map[string][]colour.Portion
	Many    map[string][]string
}

// Read reads the fields out of the address.
func Read(p *say.Printer, q url.Values, sh Sheet) Asked {
	a := Asked{In: NewInput(p, q), Numbers: map[string]float64{}, Words: map[string]string{}, Colours: map[string][]colour.Portion{}, Many: map[string][]string{}}
	sh.Fields(func(f Field) {
		if f.As == AsMany {
			if some := a.In.several(f.Path); len(some) > 0 {
				a.Many[f.Path] = some
			}
			return
		}
		v, err := f.Parse(a.In.Typed(f.Path))
		if err != nil {
			say, hint := Said(p, err)
			a.In.Refuse(f.Path, say, hint)
			return
		}
		switch v := v.(type) {
		case float64:
			a.Numbers[f.Path] = v
		case string:
			a.Words[f.Path] = v
		case []colour.Portion:
			a.Colours[f.Path] = v
		}
	})
	return a
}

// Key tells one question from another.
func (a Asked) Key() string { return fmt.Sprint(a.Numbers, a.Words, a.Colours, a.Many) }

// Number is an answer, nil when there is none.
func (a Asked) Number(path string) *float64 {
	if v, ok := a.Numbers[path]; ok {
		return &v
	}
	return nil
}

// Day is an answered date at its first moment there; the zero time when there is none.
func (a Asked) Day(path string, loc *time.Location) time.Time {
	day, err := time.ParseInLocation(time.DateOnly, a.Words[path], loc)
	if err != nil {
		return time.Time{}
	}
	return day
}

// Refused puts a refusal at its field; false when it is none the sheet can show.
func (a Asked) Refused(err error) bool {
	_, refused := err.(*shop.Error)
	return refused && a.In.Refused(err)
}

// AskedForm draws the sheet that asked, with what is wrong.
func AskedForm(r *http.Request, sh Sheet, a Asked) View {
	f := Laid(sh, a.In, r.URL.Path, nil)
	f.Get = true
	return f
}
