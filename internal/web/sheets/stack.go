package sheets

import (
	"net/url"
	"strconv"
	"strings"

	"hopperful/internal/exchange"
	"hopperful/internal/say"
	"hopperful/internal/web/charts"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/process/sieve"
	"hopperful/quantity"
	"hopperful/shop"
)

// StackChoice is the choice of another stack beside the sheet of a sieving.
type StackChoice struct {
	Lot    string
	Series []forms.Option
	Now    string // the series the sheet shows
	Holes  []forms.Option
	Form   string // of the holes
	Own    string
	Table  string       // pasted
	Wrong  *forms.Wrong // with the table
	Notes  []string
	Open   bool // no sieve is named yet
	Live   charts.Live
}

// holeForms are the forms of the openings of sieves.
var holeForms = []forms.Option{{Value: string(shop.WovenWire), Say: "form.woven_wire"}, {Value: string(shop.RoundHoles), Say: "form.plate_round_holes"}, {Value: string(shop.SquareHoles), Say: "form.plate_square_holes"}}

// StackOf shows which sieves the sheet asks for.
func StackOf(d *desk.Desk, of forms.Rows) *StackChoice {
	k, ok := of.(*stack)
	if !ok {
		return nil
	}
	v := &StackChoice{Lot: d.Query("lot"), Series: seriesOptions(d.Say), Now: string(k.Series), Holes: holeForms, Form: string(k.holes), Own: d.Query("own"), Open: len(k.Openings) == 0}
	v.Live = charts.Live{Say: d.Say}
	return v
}

// StackBody is what a table says, as far as it decides which fields the sheet
// has.
func StackBody(t exchange.Stack) *shop.Sieved {
	b := &shop.Sieved{Series: shop.OwnSet, Holes: shop.WovenWire}
	if len(t.Sieves) > 0 {
		b.Holes = map[sieve.Form]shop.Holes{sieve.PlateRound: shop.RoundHoles, sieve.PlateSquare: shop.SquareHoles, sieve.Woven: shop.WovenWire}[t.Sieves[0].Form]
		for _, s := range standards {
			if s.of == t.Sieves[0].Standard {
				b.Series = s.series
			}
		}
	}
	for _, x := range t.Sieves {
		if x.Standard != t.Sieves[0].Standard {
			b.Series = shop.OwnSet
		}
		b.Sieves = append(b.Sieves, shop.OnSieve{Opening: x.Opening})
	}
	return b
}

// FilledStack are the answers a table gives. Masses of several portions are
// added up without the sieves; of one portion they stay as they were weighed.
func FilledStack(p *say.Printer, t exchange.Stack) url.Values {
	v := url.Values{}
	set := func(path string, kg float64) {
		v.Set(path, p.Typed(quantity.Mass, kg, "g"))
	}
	one := len(t.Portions) == 1
	for row := range len(t.Sieves) + 1 {
		path := "pan_"
		if row < len(t.Sieves) {
			path = "sieves." + strconv.Itoa(row) + ".mass_"
		}
		mass, gross, tare := t.Row(row)
		if one && tare > 0 {
			mass = gross
			v.Set("gross", "yes")
			set(strings.Replace(strings.Replace(path, "mass_", "tare_", 1), "pan_", "pan_tare_", 1)+"kg", tare)
		}
		set(path+"kg", mass)
	}
	if charge := t.Charge(); charge > 0 {
		set("charge_kg", charge)
	}
	if !one {
		v.Set("portions", strconv.Itoa(len(t.Portions)))
	}
	if t.Hole != nil {
		set("hole_m", *t.Hole)
	}
	if t.Long != nil {
		v.Set("long", strconv.Itoa(*t.Long))
	}
	return v
}
