package web

import (
	"encoding/json"
	"math"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/shop"
)

// readAs reads answers into a body of a sheet.
func readAs(t *testing.T, b *bench, what string, v url.Values) (shop.Body, *forms.Input) {
	t.Helper()
	d := &desk.Desk{State: b.store.State(), Say: say.For(), Now: noon, Query: v.Get}
	in := forms.NewInput(say.For(), v)
	return in.Read(sheets.All[what](d), nil), in
}

func TestAnswersBecomeABody(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	body, in := readAs(t, b, "mill", answers("mill.name", "Rattle", "mill.rated_w", "2,2 kW", "mill.chamber_m3", "1.8", "mill.screen.hole_m", "4",
		"mill.controller.levels", "10", "mill.controller.watts", "3: 420 W\nlevel 10 = 1,1 kW", "mill.protective_earth", "yes", "mill.rotor_rad_s", "2850"))
	if body == nil {
		t.Fatalf("refused: %v", in.Wrong)
	}
	m := body.(*shop.MillSet).Mill
	near := func(name string, got *float64, want float64) {
		if got == nil || math.Abs(*got-want) > 1e-9*want {
			t.Errorf("%s is %v, want %g", name, got, want)
		}
	}
	near("power", m.RatedPower, 2200)
	near("chamber", m.Chamber, 0.0018)
	near("hole", m.Screen.Hole, 0.004)
	near("speed", m.RotorSpeed, 2850*math.Pi/30)
	if m.Controller == nil || m.Controller.Levels != 10 || len(m.Controller.Watts) != 2 || m.Controller.Watts[1] != (shop.LevelWatts{Level: 10, Watts: 1100}) {
		t.Errorf("the controller is %+v", m.Controller)
	}
	if m.Earth != shop.Yes || m.LidSwitch != shop.Unknown {
		t.Errorf("earth %q, lid switch %q", m.Earth, m.LidSwitch)
	}
}

func TestEmptyFieldsStayUnknown(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	body, in := readAs(t, b, "mill", answers("mill.name", "Rattle", "mill.rated_w", "", "mill.controller.levels", " "))
	if body == nil {
		t.Fatalf("refused: %v", in.Wrong)
	}
	if m := body.(*shop.MillSet).Mill; m.RatedPower != nil || m.Controller != nil || m.Screen.Hole != nil {
		t.Errorf("something is known of a mill nobody described: %+v", m)
	}
}

// TestSheetsGiveBackWhatTheyShow shows every record of the invented shop on its
// sheet and reads it again: nothing may be lost on the way.
func TestSheetsGiveBackWhatTheyShow(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	for _, p := range []*say.Printer{say.For(), say.For().WithComma(), say.For("de")} {
		for _, r := range b.store.State().Records.All() {
			d := &desk.Desk{State: b.store.State(), Say: p, Now: noon, Query: func(string) string { return "" }}
			sh, ok := sheets.OfRecord(d, r.Body)
			if !ok {
				t.Errorf("record %d (%s) has no sheet", r.ID, r.Body.Kind())
				continue
			}
			in := forms.NewInput(p, forms.AnswersOf(sh, r, noon.Location(), p))
			again := in.Read(sh, r.Body)
			if again == nil {
				t.Errorf("record %d (%s) is refused on its own sheet: %v", r.ID, r.Body.Kind(), in.Wrong)
				continue
			}
			if diff := farther(t, r.Body, again); diff != "" {
				t.Errorf("record %d (%s), comma %v: %s", r.ID, r.Body.Kind(), p.Comma(), diff)
			}
		}
	}
}

// farther says where two bodies differ by more than the tenth digit.
func farther(t *testing.T, a, b shop.Body) string {
	t.Helper()
	var x, y any
	for _, p := range []struct {
		body shop.Body
		into *any
	}{{a, &x}, {b, &y}} {
		raw, err := shop.Encode(p.body)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(raw, p.into); err != nil {
			t.Fatal(err)
		}
	}
	return differ("", x, y)
}

func differ(path string, a, b any) string {
	switch x := a.(type) {
	case map[string]any:
		y, ok := b.(map[string]any)
		if !ok || len(x) != len(y) {
			return path + " has other fields"
		}
		for k := range x {
			if d := differ(path+"."+k, x[k], y[k]); d != "" {
				return d
			}
		}
	case []any:
		y, ok := b.([]any)
		if !ok || len(x) != len(y) {
			return path + " has another length"
		}
		for i := range x {
			if d := differ(path, x[i], y[i]); d != "" {
				return d
			}
		}
	case float64:
		if y, ok := b.(float64); !ok || math.Abs(x-y) > 1e-9*math.Abs(x) {
			return path + " is another number"
		}
	default:
		if a != b {
			return path + " differs"
		}
	}
	return ""
}

// TestARefusalStaysAtItsField sends what cannot be right; the page must say so
// beside the field and keep everything typed.
func TestARefusalStaysAtItsField(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	mill := b.store.State().ActiveMills()[0].Name
	charge := func(more ...string) url.Values {
		v := answers("mill", mill, "from", "S1", "charge_kg", "100", "run_s", "3", "note", "typed by hand")
		for i := 0; i+1 < len(more); i += 2 {
			v.Set(more[i], more[i+1])
		}
		return v
	}
	for name, c := range map[string]struct {
		what  string
		form  url.Values
		field string
	}{
		"an absurd temperature":            {"charge", charge("charge_after_k", "18000 °C"), "charge_after_k"},
		"a unit of something else":         {"charge", charge("charge_kg", "100 °C"), "charge_kg"},
		"a word for a number":              {"charge", charge("run_s", "a while"), "run_s"},
		"a run of no time":                 {"charge", charge("run_s", "0"), "run_s"},
		"more than the chamber holds":      {"charge", charge("charge_kg", "99 kg"), "charge_kg"},
		"a lot that is not there":          {"charge", charge("from", "S999"), "from"},
		"a date in the future":             {"charge", charge("at", "2031-01-01T10:00"), "at"},
		"no date at all":                   {"charge", charge("at", "yesterday"), "at"},
		"a needed answer left out":         {"discard", answers("lot", "S1", "mass_kg", "10"), "why"},
		"a negative mass":                  {"take-in", answers("mass_kg", "-5", "class", "scrap"), "mass_kg"},
		"a hole wider than the chamber":    {"mill", answers("mill.name", "x", "mill.chamber_m3", "1", "mill.screen.hole_m", "900"), "mill.screen.hole_m"},
		"watts at no level":                {"mill", answers("mill.name", "x", "mill.controller.levels", "3", "mill.controller.watts", "much"), "mill.controller.watts"},
		"a value outside a plausible band": {"material?polymer=PLA&property=density", answers("polymer", "PLA", "property", "density", "value", "40", "low", "40", "high", "40"), "value"},
	} {
		before := b.store.State().Newest().ID
		w := b.post("/record/"+c.what, c.form)
		if w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%s answers %d", name, w.Code)
			continue
		}
		body := w.Body.String()
		id := "f-" + strings.ReplaceAll(c.field, ".", "-")
		if !strings.Contains(body, `id="`+id+`-wrong"`) {
			t.Errorf("%s is not said at the field %s", name, c.field)
		}
		for key, typed := range c.form {
			if !strings.Contains(body, htmlText(typed[0])) {
				t.Errorf("%s: what was typed for %s is lost: %q", name, key, typed[0])
			}
		}
		if b.store.State().Newest().ID != before {
			t.Errorf("%s was written down", name)
		}
	}
}

// htmlText is a text as it stands in a page.
func htmlText(s string) string { return strings.NewReplacer("&", "&amp;", "+", "&#43;").Replace(s) }

func TestACorrectionTakesTheRecordsPlace(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	w := b.post("/record/take-in", answers("mass_kg", "500", "class", "scrap", "polymer", "PLA"))
	id := b.store.State().Newest().ID
	if w.Code != http.StatusSeeOther {
		t.Fatalf("taking in answers %d", w.Code)
	}
	lot := b.store.State().Newest().Body.(*shop.TakenIn).Lot
	w = b.post("/records/"+address.Number(id)+"/correct", answers("mass_kg", "520", "class", "scrap", "polymer", "PLA"))
	if w.Code != http.StatusSeeOther {
		t.Fatalf("the correction answers %d", w.Code)
	}
	if l, _ := b.store.State().Lot(lot); math.Abs(l.Mass-0.52) > 1e-12 {
		t.Errorf("the lot has %g kg after the correction", l.Mass)
	}
	w = b.post("/records/"+address.Number(id)+"/void", answers("why", "it was another bin"))
	if _, there := b.store.State().Lot(lot); w.Code != http.StatusSeeOther || there {
		t.Errorf("striking out answers %d; the lot is still there: %v", w.Code, there)
	}
	if w := b.get("/records/" + address.Number(id) + "/correct"); w.Code != http.StatusConflict {
		t.Errorf("a record struck out can be corrected: %d", w.Code)
	}
}
