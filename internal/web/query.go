package web

import (
	"fmt"
	"net/http"
	"net/url"

	"hopperful/internal/say"
	"hopperful/process/colour"
	"hopperful/shop"
)

// asked reads what an address asks with, by the fields of a sheet that only asks.
// What cannot be read is left in the input, for the sheet to point at.
type asked struct {
	in      *input
	numbers map[string]float64
	words   map[string]string
	colours map[string][]colour.Portion
	many    map[string][]string
}

// readQuery reads the fields out of the address.
func readQuery(p *say.Printer, q url.Values, sh sheet) asked {
	a := asked{in: newInput(p, q), numbers: map[string]float64{}, words: map[string]string{}, colours: map[string][]colour.Portion{}, many: map[string][]string{}}
	sh.fields(func(f field) {
		if f.As == asMany {
			if some := a.in.several(f.Path); len(some) > 0 {
				a.many[f.Path] = some
			}
			return
		}
		v, err := f.parse(a.in.typed(f.Path))
		if err != nil {
			say, hint := saidIn(p, err)
			a.in.refuse(f.Path, say, hint)
			return
		}
		switch v := v.(type) {
		case float64:
			a.numbers[f.Path] = v
		case string:
			a.words[f.Path] = v
		case []colour.Portion:
			a.colours[f.Path] = v
		}
	})
	return a
}

// key tells one question from another.
func (a asked) key() string { return fmt.Sprint(a.numbers, a.words, a.colours, a.many) }

// number is an answer, nil when there is none.
func (a asked) number(path string) *float64 {
	if v, ok := a.numbers[path]; ok {
		return &v
	}
	return nil
}

// refused puts a refusal at its field; false when it is none the sheet can show.
func (a asked) refused(err error) bool {
	_, refused := err.(*shop.Error)
	return refused && a.in.refused(err)
}

// unreadable answers a program, or who wants a file, that something it asked with
// cannot be read; false when all can.
func (s *server) unreadable(w http.ResponseWriter, r *http.Request, a asked) bool {
	first, wrong := a.in.firstWrong()
	if wrong {
		s.fail(w, r, fault{http.StatusUnprocessableEntity, first.Say, first.Hint})
	}
	return wrong
}

// askForm draws the sheet that asked, with what is wrong.
func askForm(r *http.Request, sh sheet, a asked) formView {
	f := form(sh, a.in, r.URL.Path, nil)
	f.Get = true
	return f
}
