package web

import (
	"bufio"
	"context"
	"fmt"
	"html"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"hopperful/answer"
	"hopperful/internal/live"
	"hopperful/internal/web/address"
	"hopperful/plan/sensing"
	"hopperful/shop"
)

// listening is a hub with a plug and a thermometer at the mill, fed by a test.
type listening struct {
	*live.Hub
	t    *testing.T
	idle map[string]float64
}

// KeepIdle keeps it for the test to see.
func (l *listening) KeepIdle(mill string, watts float64) error {
	l.idle[mill] = watts
	return nil
}

// send hands readings in, a second apart from a moment on, and waits until they are taken.
func (l *listening) send(topic string, at time.Time, values ...float64) {
	l.t.Helper()
	taken := func() (n int64) {
		for _, x := range l.Look().Sensors {
			n += x.Taken
		}
		return n
	}
	before := taken()
	for i, v := range values {
		l.Take(live.Message{Topic: topic, Payload: []byte(fmt.Sprintf("%.1f", v)), At: at.Add(time.Duration(i) * time.Second)})
	}
	for end := time.Now().Add(20 * time.Second); taken() < before+int64(len(values)); {
		if time.Now().After(end) {
			l.t.Fatalf("of %d readings %d were taken", len(values), taken()-before)
		}
		time.Sleep(time.Millisecond)
	}
}

// run is what a plug shows of a run: off, on for so many seconds, off.
func meterOf(seconds int, watts func(i int) float64) (all []float64) {
	all = append(all, 0, 0, 0)
	for i := range seconds {
		all = append(all, watts(i))
	}
	return append(all, 0, 0, 0, 0, 0)
}

func rough(i int) float64 { return 300 - float64(i) + 25*float64(i%3) }
func even(i int) float64  { return 118 + float64(i%2) }

func sensorBench(t *testing.T, now func() time.Time) (*bench, *listening, shop.RecordID) {
	t.Helper()
	conf := live.Config{Sensors: []live.Sensor{{Name: "plug", Machine: "Rattle", What: sensing.Power, Topic: "p"}, {Name: "wall", Machine: "Rattle", What: sensing.Wall, Topic: "w"}, {Name: "air", What: sensing.Room, Topic: "r"}}}
	hub, err := live.NewHub(conf, now, nil, nil, live.Keeper{})
	if err != nil {
		t.Fatal(err)
	}
	hub.Linked(sensing.LinkUp, nil)
	ctx, end := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() { defer close(done); hub.Run(ctx) }()
	t.Cleanup(func() { end(); <-done })
	l := &listening{hub, t, map[string]float64{}}
	b := emptyShop(t, Options{Now: now, Live: l})
	return b, l, nine(t, b.store, noon, 100, 300)
}

// A run that a sensor saw is offered, filled in, and on record only when somebody sends it.
func TestASeenRunIsConfirmed(t *testing.T) {
	t.Parallel()
	now := noon.Add(time.Hour)
	b, l, _ := sensorBench(t, func() time.Time { return now })
	start := noon.Add(10 * time.Minute)
	l.send("r", start.Add(-time.Minute), 20.5)
	l.send("w", start, 22)
	l.send("p", start, meterOf(80, rough)...)
	before := len(b.store.State().History.List())
	page := b.get("/sensors").Body.String()
	runs := l.Look().Runs
	if len(runs) != 1 || !strings.Contains(page, fmt.Sprintf(`href="/sensors/runs/%d"`, runs[0].ID)) || !strings.Contains(page, "safety device") {
		t.Fatalf("%d runs were seen, and the page does not offer them", len(runs))
	}
	at := fmt.Sprintf("/sensors/runs/%d", runs[0].ID)
	sheet := b.get(at).Body.String()
	for _, want := range []string{`name="energy_j"`, `name="wall_before_k"`, `name="mill"`} {
		if !strings.Contains(sheet, want) {
			t.Errorf("the sheet does not ask %s", want)
		}
	}
	if len(b.store.State().History.List()) != before {
		t.Fatal("looking wrote something down")
	}
	form := filledIn(sheet)
	form.Set("product_kg", "78")
	if w := b.post(at, form); w.Code != http.StatusSeeOther {
		t.Fatalf("the sheet as it was filled in is answered with %d: %s", w.Code, w.Body)
	}
	g := b.store.State().Newest().Body.(*shop.Ground)
	if g.Run != 80 || g.Energy == nil || *g.Energy < 18000 || *g.Energy > 28000 || g.WallBefore == nil || g.Room == nil || *g.Product != 0.078 {
		t.Errorf("on record is %+v", g)
	}
	if w := b.get(at); w.Code != http.StatusConflict {
		t.Errorf("the same run is offered again with %d", w.Code)
	}
	if page := b.get("/sensors").Body.String(); strings.Contains(page, `href="`+at+`"`) {
		t.Error("it still waits")
	}
}

var (
	regexpInput  = regexp.MustCompile(`<input[^>]*>`)
	regexpSelect = regexp.MustCompile(`(?s)<select[^>]*name="([^"]*)"[^>]*>(.*?)</select>`)
	regexpOption = regexp.MustCompile(`<option[^>]*>`)
)

// attribute of a tag, as a browser reads it.
func attribute(tag, name string) string {
	m := regexp.MustCompile(` ` + name + `="([^"]*)"`).FindStringSubmatch(tag)
	if m == nil {
		return ""
	}
	return html.UnescapeString(m[1])
}

// filledIn is what a browser would send of a page's main form.
func filledIn(page string) url.Values {
	form := url.Values{}
	for _, tag := range regexpInput.FindAllString(page, -1) {
		name, value := attribute(tag, "name"), attribute(tag, "value")
		kind := attribute(tag, "type")
		if name == "" || (kind == "radio" || kind == "checkbox") && !strings.Contains(tag, " checked") {
			continue
		}
		form.Set(name, value)
	}
	for _, s := range regexpSelect.FindAllStringSubmatch(page, -1) {
		for _, o := range regexpOption.FindAllString(s[2], -1) {
			if strings.Contains(o, " selected") {
				form.Set(s[1], attribute(o, "value"))
			}
		}
	}
	return form
}

// One that nobody wants goes, one that ran empty tells what the mill draws empty.
func TestASeenRunIsSetAside(t *testing.T) {
	t.Parallel()
	now := noon.Add(time.Hour)
	b, l, _ := sensorBench(t, func() time.Time { return now })
	l.send("p", noon.Add(10*time.Minute), meterOf(40, rough)...)
	l.send("p", noon.Add(20*time.Minute), meterOf(40, even)...)
	runs := l.Look().Runs
	if len(runs) != 2 || !runs[1].Flat {
		t.Fatalf("seen were %+v", runs)
	}
	at := func(i int, what string) string { return fmt.Sprintf("/sensors/runs/%d/%s", runs[i].ID, what) }
	if w := b.post(at(0, "aside"), nil); w.Code != http.StatusSeeOther || !l.Look().Runs[0].Aside {
		t.Errorf("setting aside is answered with %d", w.Code)
	}
	if w := b.post(at(0, "idle"), nil); w.Code != http.StatusNotFound || len(l.idle) > 0 {
		t.Errorf("a run under load taken as empty is answered with %d", w.Code)
	}
	if w := b.post(at(1, "idle"), nil); w.Code != http.StatusSeeOther || l.idle["Rattle"] < 118 || l.idle["Rattle"] > 119 {
		t.Errorf("a run on empty is answered with %d, kept are %v", w.Code, l.idle)
	}
	if w := b.post("/sensors/runs/99/aside", nil); w.Code != http.StatusNotFound {
		t.Errorf("a run that is not there is answered with %d", w.Code)
	}
	if w := b.get("/sensors/runs/99"); w.Code != http.StatusNotFound {
		t.Errorf("a run that is not there is shown with %d", w.Code)
	}
	if n := len(sensing.Unconfirmed(b.store.State(), l.Look())); n != 0 {
		t.Errorf("%d still wait", n)
	}
}

// Without anybody who listens the page says so and offers nothing.
func TestSensorsWithoutAny(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	if page := b.get("/sensors").Body.String(); !strings.Contains(page, "Say where they send to") || strings.Contains(page, "hopperful sensors") {
		t.Error("the page does not say how sensors are set up")
	}
	if w := b.get("/sensors/live"); w.Code != http.StatusNotFound {
		t.Errorf("the stream is answered with %d", w.Code)
	}
}

// The stream tells what changes, and ends with the session.
func TestTheStreamOfSensors(t *testing.T) {
	t.Parallel()
	b, l, _ := sensorBench(t, func() time.Time { return noon })
	srv := httptest.NewServer(b.pages)
	t.Cleanup(srv.Close)
	ctx, end := context.WithTimeout(context.Background(), 20*time.Second)
	defer end()
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, srv.URL+"/sensors/live?machine=Rattle", nil)
	if err != nil {
		t.Fatal(err)
	}
	res, err := srv.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	l.send("p", noon, 311)
	lines := bufio.NewScanner(res.Body)
	for lines.Scan() {
		if strings.Contains(lines.Text(), "311 W") {
			return
		}
	}
	t.Error("the stream ended without the reading")
}

// On the page of the sensors and on that of the run values move by themselves, and a warning
// comes up where it is looked at.
func TestSensorsInABrowser(t *testing.T) {
	t.Parallel()
	browser := oneBrowser(t)
	now := noon.Add(time.Minute)
	b, l, id := sensorBench(t, func() time.Time { return now })
	l.send("p", noon, 0, 0)
	w := open(t, browser, b)
	w.look(390, 844, false)
	shows := func(selector, want string) {
		t.Helper()
		for end := time.Now().Add(20 * time.Second); ; time.Sleep(20 * time.Millisecond) {
			got := ask[string](w, fmt.Sprintf(`[...document.querySelectorAll(%q)].map((x) => x.textContent).join("|")`, selector))
			if strings.Contains(got, want) {
				return
			}
			if time.Now().After(end) {
				t.Fatalf("%s shows %q, wanted %q", selector, got, want)
			}
		}
	}
	w.at("/sensors")
	l.send("p", noon.Add(10*time.Second), meterOf(30, rough)[:25]...)
	shows(`[data-sensor="plug"] .live-value`, "W")
	l.send("p", noon.Add(35*time.Second), 287)
	shows(`[data-sensor="plug"] .live-value`, "287 W")
	w.accessible("sensors", 390)

	for _, what := range []shop.Mark{shop.SheetSkipped, shop.RunStarted} {
		if _, err := b.store.Append(context.Background(), noon, shop.Record{Body: &shop.CampaignMarked{Campaign: id, What: what}}); err != nil {
			t.Fatal(err)
		}
	}
	w.at(address.Run(id))
	shows(`.live-value`, "287 W")
	var warm []float64
	for i := range 30 {
		warm = append(warm, 40+0.45*float64(i)) // 53 °C, and 55 °C is the limit
	}
	l.send("w", noon.Add(10*time.Second), warm...)
	shows(`.live-alerts li`, "55")
	shows(`[data-sensor="wall"] .live-value`, "53.0 °C")
	if wide := ask[float64](w, `document.documentElement.scrollWidth`); wide > 390 {
		t.Errorf("the page is %g px wide", wide)
	}
	w.accessible("run with sensors", 390)
	w.picture("run-sensors")
	if !slices.ContainsFunc(sensing.Alerts(b.store.State(), l.Look(), "Rattle"), func(f answer.Finding) bool { return strings.HasPrefix(f.Code, "live.wall") }) {
		t.Error("the alert of the page is none of the plan's")
	}
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
}

// sensorPictures is that of the sensors on a phone, while a run goes on and another waits.
func sensorPictures(t *testing.T, browser context.Context) {
	t.Helper()
	now := noon.Add(20 * time.Minute)
	b, l, _ := sensorBench(t, func() time.Time { return now })
	start := noon.Add(10 * time.Minute)
	l.send("r", start, 20.5)
	l.send("w", start, 22)
	l.send("p", start, meterOf(80, rough)...)
	l.send("p", now.Add(-25*time.Second), meterOf(30, rough)[:25]...)
	l.send("w", now.Add(-time.Second), 31.5)
	l.send("r", now.Add(-time.Second), 20.7)
	w := open(t, browser, b)
	w.look(390, 844, false)
	w.at("/sensors")
	w.do("drawing", chromedp.Sleep(4*shortWait))
	w.keep("docs-sensors-phone", chromedp.CaptureScreenshot())
}
