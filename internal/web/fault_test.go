package web

import (
	"net/http"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// wrongFields are the fields of a page that something is said at.
func wrongFields(body string) []string {
	var all []string
	for _, m := range regexp.MustCompile(`id="f-([^"]*)-wrong"`).FindAllStringSubmatch(body, -1) {
		all = append(all, m[1])
	}
	slices.Sort(all)
	return all
}

// Everything wrong with a form is said at once, each at its field, and what was
// typed stays: slips of reading, answers out of bounds and answers missing.
func TestEveryWrongFieldIsNamed(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	for _, c := range []struct {
		path string
		form []string
		want []string
	}{
		{"/record/mill", []string{"mill.name", "Rattle 2", "mill.rated_w", "9 MW", "mill.chamber_m3", "3000", "mill.screen.hole_m", "0", "mill.noise_db", "85"},
			[]string{"mill-chamber_m3", "mill-rated_w", "mill-screen-hole_m"}},
		{"/record/mill", []string{"mill.rated_w", "much", "mill.chamber_m3", "3000"}, []string{"mill-chamber_m3", "mill-name", "mill-rated_w"}},
		{"/record/charge", []string{"mill", "Rattle", "from", "S1", "charge_kg", "9999999", "run_s", "30 h", "level", "x"}, []string{"charge_kg", "level", "run_s"}},
		{"/record/take-in", []string{"mass_kg", "0", "class", "scrap", "pieces.wall_m", "9000", "pieces.infill", "120"}, []string{"mass_kg", "pieces-infill", "pieces-wall_m"}},
		{"/plan", []string{"mass", "9999999", "infill", "a lot"}, []string{"infill", "mass", "name"}},
	} {
		w := b.post(c.path, answers(c.form...))
		body := w.Body.String()
		if got := wrongFields(body); w.Code != http.StatusUnprocessableEntity || !slices.Equal(got, c.want) {
			t.Errorf("%s names %v, wanted %v (%d)", c.path, got, c.want, w.Code)
		}
		for i := 0; i < len(c.form); i += 2 {
			if v := c.form[i+1]; !strings.Contains(body, `value="`+v+`"`) {
				t.Errorf("%s has lost %s = %q", c.path, c.form[i], v)
			}
		}
	}
}

// A need shows the colour that was asked for.
func TestAWantedColourIsShown(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	b.post("/plan", answers("mass", "200 g", "name", "lamp foot", "polymer", "PLA", "rgb", "#c8653c"))
	if page := b.get("/plan").Body.String(); !strings.Contains(page, `fill="#c8653c"`) {
		t.Error("the list of needs does not show the wanted colour")
	}
	if page := b.get("/record/need?of=lamp+foot").Body.String(); !strings.Contains(page, `name="need.rgb" value="#c8653c"`) {
		t.Error("its sheet does not ask for it")
	}
}

// A colour nobody picked is not kept, whether or not the browser runs scripts:
// a field for colours always holds one.
func TestAnUntouchedColourIsNone(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	page := b.get("/record/take-in").Body.String()
	at := regexp.MustCompile(`type="color" id="f-rgb" name="rgb" value="(#[0-9a-f]{6})"`).FindStringSubmatch(page)
	if at == nil {
		t.Fatal("no colour is asked for")
	}
	b.post("/record/take-in", answers("mass_kg", "200", "class", "scrap", "rgb", at[1]))
	if l, ok := b.store.State().Lot("S1"); !ok || l.RGB != "" {
		t.Errorf("the lot is %+v", l)
	}
}

// Melt a turn of the screw gives is taken from the printer's record, as on the
// command line, and not asked again.
func TestMeltATurnIsThePrinters(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	const file = "M83\nG1 X10 E1 F600\nG1 X20 E1\n"
	if w := b.upload("clip.gcode", []byte(file), "e", "revolution", "polymer", "PLA"); w.Code != http.StatusUnprocessableEntity {
		t.Fatalf("without a printer it answers %d", w.Code)
	}
	b.post("/record/printer", answers("printer.name", "Puddle", "printer.per_turn_m3", "85"))
	w := b.upload("clip.gcode", []byte(file), "e", "revolution", "polymer", "PLA")
	if w.Code != http.StatusSeeOther {
		t.Fatalf("with a printer it answers %d: %s", w.Code, said422(w.Body.String()))
	}
	if n := b.store.State().Needs[0]; n.Volume == nil || !near(*n.Volume, 2*85e-9) {
		t.Errorf("the need is %+v", n)
	}
}
