package web

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"path/filepath"
	"regexp"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"hopperful/internal/store"
	"hopperful/internal/web/address"
	"hopperful/plan/campaign"
	"hopperful/shop"
)

// housemix is a plastic of no book, so that no plan is made of it: the campaign goes by
// what was said when it began, and these tests by the clock they set.
const housemix = "Housemix"

// nine is a campaign of nine charges on the mill of a small shop.
func nine(t testing.TB, st *store.Store, at time.Time, run, rest float64) shop.RecordID {
	t.Helper()
	level := 12
	expect, wall := 0.078, 328.15
	kept, err := st.Append(context.Background(), at,
		shop.Record{At: at.Add(-time.Hour), Body: &shop.MillSet{Mill: shop.Mill{Name: "Rattle", Controller: &shop.Control{Levels: 20}}}},
		shop.Record{At: at.Add(-time.Hour), Body: &shop.TakenIn{Class: shop.Scrap, Name: "failed prints", Polymer: housemix, Halogen: shop.No, Mass: 3}},
		shop.Record{At: at.Add(-time.Minute), Body: &shop.CampaignBegun{Mill: "Rattle", Polymer: housemix, Wanted: 0.7,
			Cycle: shop.Cycle{Charge: 0.09, Level: &level, Run: run, Rest: rest, Charges: 9, Expect: &expect, Wall: &wall}}})
	if err != nil {
		t.Fatal(err)
	}
	return kept[len(kept)-1].ID
}

// TestRunWithoutScript goes through a charge by forms alone: each press leads on, and
// the same page sent twice writes once.
func TestRunWithoutScript(t *testing.T) {
	t.Parallel()
	now := noon
	b := emptyShop(t, Options{Now: func() time.Time { return now }})
	id := nine(t, b.store, noon, 100, 300)
	at := address.Run(id)
	press := func(pairs ...string) {
		t.Helper()
		to := at + "/mark"
		if pairs[0] == "product_kg" {
			to = at + "/charge"
		}
		for range 2 { // a page sent again, as Back does
			w := b.post(to, answers(append(pairs, "key", strings.Join(pairs, "-"))...))
			if w.Code != http.StatusSeeOther || !strings.HasPrefix(w.Header().Get("Location"), at) {
				t.Fatalf("%v is answered with %d %s", pairs, w.Code, w.Body)
			}
		}
	}
	stage := func(want string) shop.Campaign {
		t.Helper()
		c, _ := b.store.State().Campaign(id)
		page := b.get(at).Body.String()
		if got := regexp.MustCompile(`data-stage="(\w+)"`).FindStringSubmatch(page); len(got) < 2 || got[1] != want {
			t.Fatalf("the page is at %v, want %s", got, want)
		}
		return c
	}
	stage("sheet")
	press("what", "sheet ticked", "ticked", "earth", "ticked", "ears")
	stage("sheet")
	press("what", "sheet skipped")
	stage("ready")
	press("what", "started")
	stage("running")
	now = now.Add(42 * time.Second)
	press("what", "strange noise")
	press("what", "stopped")
	c := stage("stopped")
	if page := b.get(at).Body.String(); !strings.Contains(page, `name="run_s" value="42 s"`) && !strings.Contains(page, `value="0:42"`) && !strings.Contains(page, `value="0.7"`) {
		t.Errorf("the run of 42 s is not filled in: %v", regexp.MustCompile(`name="run_s"[^>]*`).FindString(page))
	}
	if w := b.post(at+"/charge", answers("product_kg", "many", "k", "1", "key", "bad")); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), `value="many"`) {
		t.Errorf("a product of many g is answered with %d", w.Code)
	}
	now = now.Add(time.Minute)
	press("product_kg", "78", "left_kg", "9", "k", "1")
	if c = stage("ready"); c.Done() != 1 || c.Out != 0.078 || len(b.store.State().Lots.At("R1").Records) != 1 {
		t.Errorf("after one charge %d are done, %g kg out", c.Done(), c.Out)
	}
	r, _ := b.store.State().Record(c.Runs[0])
	if g := r.Body.(*shop.Ground); g.Run != 42 || *g.Level != 12 || g.Charge != 0.09 || !r.At.Equal(noon.Add(42*time.Second)) {
		t.Errorf("written down is %+v at %v", g, r.At)
	}
	// Another device typed the same charge: it is shown again, with a way to correct it.
	w := b.post(at+"/charge", answers("product_kg", "80", "k", "1", "key", "other"))
	if w.Code != http.StatusConflict || !strings.Contains(w.Body.String(), "/correct?product_kg=80") {
		t.Errorf("the same charge of another device is answered with %d", w.Code)
	}
	if w := b.post(at+"/mark", answers("what", "stopped", "key", "late")); w.Code != http.StatusSeeOther {
		t.Errorf("a stop that no longer fits is answered with %d", w.Code)
	}
	if w := b.get("/run"); w.Code != http.StatusSeeOther || w.Header().Get("Location") != at {
		t.Errorf("/run leads to %s", w.Header().Get("Location"))
	}
	if body := b.get("/").Body.String(); !strings.Contains(body, `href="`+at+`"`) {
		t.Error("the first page does not lead to it")
	}
	if w := b.get("/run/99999"); w.Code != http.StatusNotFound {
		t.Errorf("a campaign that is not there is answered with %d", w.Code)
	}
}

// TestBeginFromThePlan: the button of a plan's page, pressed twice.
func TestBeginFromThePlan(t *testing.T) {
	t.Parallel()
	b := plannedShop(t, Options{})
	page := b.get("/plan/vase?mill=Grumble").Body.String()
	form := url.Values{}
	for _, m := range regexp.MustCompile(`<input type="hidden" name="(key|need|mill|polymer)" value="([^"]*)">`).FindAllStringSubmatch(page, -1) {
		form.Set(m[1], m[2])
	}
	if form.Get("key") == "" || form.Get("need") != "vase" {
		t.Fatalf("the plan offers %v", form)
	}
	for range 2 {
		if w := b.post("/run", form); w.Code != http.StatusSeeOther || !strings.HasPrefix(w.Header().Get("Location"), "/run/") {
			t.Fatalf("beginning is answered with %d %s", w.Code, w.Body)
		}
	}
	if all := b.store.State().Campaigning(); len(all) != 1 || all[0].Needs[0] != "vase" {
		t.Errorf("begun are %+v", all)
	}
	if page := b.get("/plan/vase?mill=Grumble").Body.String(); !strings.Contains(page, `class="button main-act" href="/run/`) {
		t.Error("the plan does not lead on to the campaign")
	}
}

// mortal is a served shop that can be killed and started again at its address.
type mortal struct {
	t     *testing.T
	path  string
	addr  string
	st    *store.Store
	pages atomic.Pointer[http.Handler] // changed while pages still ask
	srv   *http.Server
	cut   atomic.Bool // the network: whatever is asked, the line breaks
}

func (m *mortal) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if !m.cut.Load() {
		(*m.pages.Load()).ServeHTTP(w, r)
		return
	}
	c, _, err := w.(http.Hijacker).Hijack()
	if err != nil {
		m.t.Error(err)
		return
	}
	c.Close()
}

func (m *mortal) start() {
	m.t.Helper()
	l, err := net.Listen("tcp", m.addr)
	if err != nil {
		m.t.Fatal(err)
	}
	m.addr = l.Addr().String()
	if m.st, err = store.Open(context.Background(), m.path, store.Options{}); err != nil {
		m.t.Fatal(err)
	}
	m.serve(Options{})
	m.srv = &http.Server{Handler: m, ReadHeaderTimeout: time.Minute}
	srv := m.srv
	go func() {
		if err := srv.Serve(l); !errors.Is(err, http.ErrServerClosed) {
			m.t.Errorf("the server ended: %v", err)
		}
	}()
}

// serve answers from now on as a shop with these options.
func (m *mortal) serve(o Options) {
	pages := New(m.st, o)
	m.pages.Store(&pages)
}

// kill ends it at once, with every connection.
func (m *mortal) kill() {
	m.srv.Close()
	if err := m.st.Close(); err != nil {
		m.t.Error(err)
	}
}

func served(t *testing.T, run, rest float64) (*mortal, string) {
	t.Helper()
	m := &mortal{t: t, path: filepath.Join(t.TempDir(), "mill.shop"), addr: "127.0.0.1:0"}
	st, err := store.Create(context.Background(), m.path, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	id := nine(t, st, time.Now(), run, rest)
	if err := st.Close(); err != nil {
		t.Fatal(err)
	}
	m.start()
	t.Cleanup(func() { m.kill() })
	return m, address.Run(id)
}

// device is a window with a storage of its own, as another phone has.
func device(t *testing.T, home string) *tab {
	t.Helper()
	w := window(t, oneBrowser(t), home, chromedp.WithNewBrowserContext())
	w.look(390, 844, false)
	return w
}

const atStage = `document.querySelector(".run").dataset.stage === `

// enter types into an answer of the charge, as fingers do.
func (w *tab) enter(path, text string) {
	w.t.Helper()
	w.until("what was touched is sent", `(localStorage.getItem("hopperful-out") ?? "[]") === "[]" || !document.querySelector('[data-shows="unsent"]').hidden`)
	ask[bool](w, `(() => { document.querySelector('.run [name="`+path+`"]').focus(); return true; })()`)
	w.do("type "+text, chromedp.KeyEvent(text))
}

func (w *tab) thumb(text string) {
	w.t.Helper()
	w.until("the button "+text, `[...document.querySelectorAll(".run button")].some((b) => b.textContent === "`+text+`" && b.offsetHeight > 0)`)
	ask[bool](w, `(() => { [...document.querySelectorAll(".run button")].find((b) => b.textContent === "`+text+`" && b.offsetHeight > 0).click(); return true; })()`)
}

// TestTwoDevicesAtTheMill: both show the same second; what one says the other shows;
// the server is killed in mid-run and nothing is lost or doubled.
func TestTwoDevicesAtTheMill(t *testing.T) {
	t.Parallel()
	m, at := served(t, 600, 300)
	home := "http://" + m.addr
	one, two := device(t, home), device(t, home)
	one.at(at)
	two.at(at)
	one.thumb("Skip the sheet")
	two.until("the sheet is skipped on the other", atStage+`"ready"`)
	one.thumb("It started")
	two.until("the other runs too", atStage+`"running"`)
	dial := `document.querySelector(".run-dial").textContent`
	same := false
	var a, b string
	for range 100 { // between two seconds the two may be asked on either side of it
		a, b = ask[string](one, dial), ask[string](two, dial)
		if same = a == b && strings.HasPrefix(a, "9:"); same {
			break
		}
		one.do("waiting", chromedp.Sleep(shortWait))
	}
	if !same {
		t.Errorf("the two devices show %s and %s", a, b)
	}
	started := campaignNow(m)

	m.kill()
	one.thumb("Strange noise") // said while nobody listens
	one.thumb("It stopped")
	one.until("it is kept on the device", `!document.querySelector('[data-shows="unsent"]').hidden`)
	one.until("and the page goes on", atStage+`"stopped"`)
	one.enter("product_kg", "77.5")
	m.start()
	two.until("the other hears of it", atStage+`"stopped"`)
	one.until("it is sent", `document.querySelector('[data-shows="unsent"]').hidden`)
	if got := ask[string](one, `document.querySelector('.run [name="product_kg"]').value`); got != "77.5" {
		t.Errorf("what was typed is %q after the restart", got)
	}
	one.thumb("Write it down")
	two.until("the other is at the rest", atStage+`"ready"`)
	c := campaignNow(m)
	if c.Done() != 1 || c.Out != 0.0775 || !c.Started.Equal(started.Started) || c.Stopped.Before(c.Started) {
		t.Errorf("written down is %+v", c)
	}
	noises := 0
	for _, r := range m.st.State().Records.All() {
		if b, ok := r.Body.(*shop.CampaignMarked); ok && b.What == shop.StrangeNoise {
			noises++
		}
	}
	if noises != 1 {
		t.Errorf("%d noises are on record", noises)
	}
	for _, w := range []*tab{one, two} {
		for _, fault := range w.complaints() {
			t.Error(fault)
		}
	}
}

func campaignNow(m *mortal) shop.Campaign { return m.st.State().Campaigns[0] }

// TestNothingTypedIsLost: the network is cut, Back is pressed in mid-typing, the page
// is loaded again; the draft is there, is sent once, and then is gone.
func TestNothingTypedIsLost(t *testing.T) {
	t.Parallel()
	m, at := served(t, 600, 300)
	w := device(t, "http://"+m.addr)
	w.at("/")
	w.at(at)
	w.thumb("Skip the sheet")
	w.thumb("It started")
	w.until("it runs", atStage+`"running"`)
	w.thumb("It stopped")
	w.until("it stands", atStage+`"stopped"`)
	if pad := ask[string](w, `document.querySelector('.run [name="product_kg"]').inputMode`); pad != "decimal" {
		t.Errorf("the product opens the keypad %q", pad)
	}
	if v := ask[string](w, `document.querySelector('.run [name="charge_kg"]').value`); v != "90" {
		t.Errorf("the charge is filled in with %q", v)
	}
	w.enter("product_kg", "81")
	ask[bool](w, `(() => { setTimeout(() => history.back()); return true; })()`)
	w.until("the first page", `location.pathname === "/"`)
	w.at(at)
	w.until("the draft is there", `document.querySelector('.run [name="product_kg"]').value === "81"`)

	m.cut.Store(true)
	w.enter("left_kg", "5")
	w.thumb("Write it down")
	w.until("it is kept", `!document.querySelector('[data-shows="unsent"]').hidden`)
	w.until("and the page goes on to the rest", atStage+`"ready"`)
	if c := campaignNow(m); c.Done() != 0 {
		t.Fatal("the cut network let it through")
	}
	m.cut.Store(false)
	w.until("it is sent", `document.querySelector('[data-shows="unsent"]').hidden && document.querySelector(".run").dataset.k === "2"`)
	w.do("wait", chromedp.Sleep(4*shortWait))
	c := campaignNow(m)
	if c.Done() != 1 || c.Out != 0.081 {
		t.Errorf("%d charges of %g kg are on record", c.Done(), c.Out)
	}
	if left := ask[int](w, `Object.keys(localStorage).filter((k) => k.startsWith("hopperful-draft")).length`); left != 0 {
		t.Errorf("%d drafts are left behind", left)
	}
}

// TestTheEndIsSeenHeardAndFelt: run and rest of two seconds each change the whole
// screen and ring once.
func TestTheEndIsSeenHeardAndFelt(t *testing.T) {
	t.Parallel()
	m, at := served(t, 2, 2)
	w := device(t, "http://"+m.addr)
	w.at(at)
	ask[bool](w, `(() => { window.felt = 0; navigator.vibrate = () => { window.felt++; return true; }; return true; })()`)
	w.thumb("Skip the sheet")
	w.thumb("It started")
	w.until("the time of the run is over", `document.body.dataset.mill === "over-time"`)
	if rung := ask[string](w, `document.body.dataset.rung`); !strings.HasSuffix(rung, "over-time") {
		t.Errorf("it rang %q", rung)
	}
	colour := `getComputedStyle(document.body).backgroundColor`
	over := ask[string](w, colour)
	w.picture("run-over")
	w.thumb("It stopped")
	w.enter("product_kg", "80")
	w.thumb("Write it down")
	w.until("the rest is over", `document.body.dataset.mill === "ready"`)
	if rested := ask[string](w, colour); rested == over {
		t.Errorf("the screen is %s at the end of the run and of the rest", over)
	}
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
}

// TestNineChargesOnOneScreen: at the width of a phone the number of the charge, its
// grams and level, the clock and the button stand on one screen, in every stage.
func TestNineChargesOnOneScreen(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	now := noon
	b := emptyShop(t, Options{Now: func() time.Time { return now }})
	id := nine(t, b.store, noon, 100, 300)
	w := open(t, oneBrowser(t), b)
	for _, dark := range []bool{false, true} {
		w.look(390, 844, dark)
		for k := b.store.State().Campaigns[0].Done(); k < 9 && (dark || k < 3); k++ {
			step := func(what shop.Mark) {
				if _, err := b.store.Append(context.Background(), now, shop.Record{Body: &shop.CampaignMarked{Campaign: id, What: what}}); err != nil {
					t.Fatal(err)
				}
			}
			show := func(stage string) {
				if k != 2 && k != 8 {
					return
				}
				w.at(address.Run(id))
				low := `(() => { const b = [...document.querySelectorAll("[data-at]:not([hidden]) button")].find((x) => x.classList.contains("big-act")); return Math.max(b.getBoundingClientRect().bottom, document.querySelector(".run-dial").getBoundingClientRect().bottom); })()`
				if at := ask[float64](w, low); at > 844-64 {
					t.Errorf("charge %d, %s: the button ends at %g px", k+1, stage, at)
				}
				if wide := ask[float64](w, `document.documentElement.scrollWidth`); wide > 390 {
					t.Errorf("charge %d, %s: the page is %g px wide", k+1, stage, wide)
				}
				if size := ask[float64](w, `parseFloat(getComputedStyle(document.querySelector(".run-dial")).fontSize)`); size < 100 {
					t.Errorf("the clock is %g px high; at two metres it wants 100", size)
				}
				if n := ask[int](w, `document.querySelectorAll(".run-strip li").length`); n != 9 && stage != "ready" {
					t.Errorf("%d of nine charges are shown", n)
				}
				w.accessible(fmt.Sprintf("charge %d, %s", k+1, stage), 390)
				w.picture("run-" + stage + map[bool]string{true: "-dark"}[dark])
			}
			if k == 0 {
				step(shop.SheetSkipped)
			}
			step(shop.RunStarted)
			now = now.Add(30 * time.Second)
			show("running")
			now = now.Add(70 * time.Second)
			step(shop.RunStopped)
			show("stopped")
			c := b.store.State().Campaigns[0]
			g := campaign.Filled(b.store.State(), c, nil)
			product := 0.07
			g.Product = &product
			if _, err := b.store.Append(context.Background(), now, shop.Record{At: now, Body: g}); err != nil {
				t.Fatal(err)
			}
			now = now.Add(60 * time.Second)
			if k < 8 {
				show("ready")
			}
		}
	}
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
}
