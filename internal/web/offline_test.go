package web

import (
	"context"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"hopperful/shop"
)

// untilKept waits until something is so of what the browser keeps; has is given the
// text of the page kept of an address, null where none is.
func (w *tab) untilKept(what, at, has string) {
	w.t.Helper()
	script := `(async () => {
  const name = (await caches.keys()).find((n) => n.startsWith("hopperful-pages-"));
  const one = name === undefined ? undefined : await (await caches.open(name)).match("` + at + `");
  return (` + has + `)(one === undefined ? null : await one.text()); })()`
	for last := time.Now().Add(stepLimit); time.Now().Before(last); w.do("waiting", chromedp.Sleep(shortWait)) {
		if ask[bool](w, script) {
			return
		}
	}
	w.t.Fatalf("%s: in vain", what)
}

// kept waits until the worker keeps the run's page.
func (w *tab) kept(at string) {
	w.t.Helper()
	w.untilKept("the page is kept on the device", at, `(text) => text !== null && navigator.serviceWorker.controller !== null`)
}

// leave goes to no page at all, so that the next is loaded anew.
func (w *tab) leave() {
	w.t.Helper()
	w.do("leaving", chromedp.Navigate("about:blank"))
}

// TestOfflineAtTheMill: the network is cut, the page is loaded again and says since
// when it stands; two charges are touched and typed, it is loaded once more in between;
// when the network is back all is written exactly once, with the times it was touched.
func TestOfflineAtTheMill(t *testing.T) {
	t.Parallel()
	m, at := served(t, 600, 300)
	w := device(t, "http://"+m.addr)
	w.at(at)
	w.kept(at)
	w.kept("/")
	w.thumb("Skip the sheet")
	w.thumb("It started")
	w.until("it runs", atStage+`"running"`)
	w.until("the server has it", `localStorage.getItem("hopperful-out") === "[]"`)
	w.untilKept("the page as it now is", at, `(text) => text.includes('data-stage="running"')`)
	started := campaignNow(m).Started

	m.cut.Store(true)
	w.leave()
	w.at(at)
	w.until("it says that it is offline", `!document.getElementById("offline").hidden`)
	said := ask[string](w, `document.getElementById("offline").textContent`)
	if !regexp.MustCompile(`^Offline, as of \d\d:\d\d\. What you touch`).MatchString(said) {
		t.Errorf("it says %q", said)
	}
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
	// The clock goes on by the server's time, not from when the page was kept.
	left := ask[float64](w, `(() => { const [m, s] = document.querySelector(".run-dial").textContent.split(":"); return 60 * m + +s; })()`)
	if want := 600 - time.Since(started).Seconds(); left < want-4 || left > want+4 {
		t.Errorf("the clock shows %g s, want %g", left, want)
	}
	w.picture("run-offline")
	w.thumb("It stopped")
	w.until("it stands", atStage+`"stopped"`)
	w.enter("product_kg", "81")
	w.leave()
	w.at(at)
	w.until("the stop and the draft are still there", atStage+`"stopped" && document.querySelector('.run [name="product_kg"]').value === "81"`)
	w.thumb("Write it down")
	w.until("the next charge", atStage+`"ready" && document.querySelector('[data-shows="k"]').textContent === "2"`)
	w.thumb("It started")
	w.thumb("It stopped")
	w.until("its sheet is empty", `document.querySelector('.run [name="product_kg"]').value === ""`)
	w.enter("product_kg", "79")
	w.thumb("Write it down")
	w.at("/")
	w.until("another page says that something waits", `!document.getElementById("unsent").hidden && !document.getElementById("offline").hidden`)
	w.at("/run")
	w.until("the campaign is found again", `location.pathname === "`+at+`" && document.querySelector('[data-shows="k"]').textContent === "3"`)
	w.at("/stock")
	w.until("what is not kept says so", `document.querySelector("h1").textContent.includes("no network")`)
	if c := campaignNow(m); c.Done() != 0 {
		t.Fatal("the cut network let it through")
	}

	m.cut.Store(false)
	w.at("/")
	w.until("sent from the first page", `localStorage.getItem("hopperful-out") === "[]" && document.getElementById("unsent").hidden`)
	w.at(at)
	w.until("the page is fresh", `document.getElementById("offline").hidden && document.querySelector('[data-shows="k"]').textContent === "3"`)
	w.do("wait", chromedp.Sleep(4*shortWait))
	c := campaignNow(m)
	if c.Done() != 2 || c.Out != 0.16 {
		t.Errorf("%d charges of %g kg are on record", c.Done(), c.Out)
	}
	marks := map[shop.Mark]int{}
	for _, r := range m.st.State().Records.All() {
		if b, ok := r.Body.(*shop.CampaignMarked); ok {
			marks[b.What]++
		}
	}
	if marks[shop.RunStarted] != 2 || marks[shop.RunStopped] != 2 || marks[shop.ChargeNoted] != 2 {
		t.Errorf("on record are %v", marks)
	}
	first, _ := m.st.State().Record(c.Runs[0])
	if g := first.Body.(*shop.Ground); g.Run >= 600 || g.Run < 1 {
		t.Errorf("the first charge ran for %g s; what was touched was far less than the 600 s planned", g.Run)
	}
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
}

// TestARefusedChargeHoldsTheRest: a product the server does not take, typed offline,
// is shown again and mended; what was touched after it follows then.
func TestARefusedChargeHoldsTheRest(t *testing.T) {
	t.Parallel()
	m, at := served(t, 600, 300)
	w := device(t, "http://"+m.addr)
	w.at(at)
	w.kept(at)
	w.thumb("Skip the sheet")
	w.thumb("It started")
	w.until("it runs", atStage+`"running"`)
	w.until("the server has it", `localStorage.getItem("hopperful-out") === "[]"`)
	m.cut.Store(true)
	w.thumb("It stopped")
	w.enter("product_kg", "eighty")
	w.thumb("Write it down")
	w.until("the next charge", atStage+`"ready"`)
	w.thumb("It started")
	m.cut.Store(false)
	w.until("it is shown again with what is wrong", atStage+`"stopped" && document.querySelector(".run .wrong-box[role=alert]") !== null`)
	if v := ask[string](w, `document.querySelector('.run [name="product_kg"]').value`); v != "eighty" {
		t.Errorf("what was typed is %q", v)
	}
	ask[bool](w, `(() => { document.querySelector('.run [name="product_kg"]').value = ""; return true; })()`)
	w.enter("product_kg", "80")
	w.thumb("Write it down")
	w.until("the second charge runs", atStage+`"running" && localStorage.getItem("hopperful-out") === "[]"`)
	if c := campaignNow(m); c.Done() != 1 || c.Out != 0.08 || c.Stage != shop.RunStage {
		t.Errorf("%d charges of %g kg, at %s", c.Done(), c.Out, c.Stage)
	}
}

// TestNothingStaysAfterALogOut: what is kept is thrown away with the log-out, which
// waits for what is not sent.
func TestNothingStaysAfterALogOut(t *testing.T) {
	t.Parallel()
	m, at := served(t, 600, 300)
	m.serve(Options{Passphrase: "three loud mills"})
	w := device(t, "http://"+m.addr)
	login := func() {
		w.at("/login?next=" + at)
		ask[bool](w, `(() => { document.querySelector('[name="passphrase"]').value = "three loud mills"; document.querySelector("main form").requestSubmit(); return true; })()`)
		w.until("the run", `location.pathname === "`+at+`" && document.querySelector(".run") !== null`)
		w.kept(at)
	}
	login()
	w.at("/devices")
	m.cut.Store(true)
	ask[bool](w, `(() => { outbox.add({ to: "`+at+`/mark", body: "what=sheet+skipped", run: "`+strings.TrimPrefix(at, "/run/")+`", charge: false }); return true; })()`)
	ask[bool](w, `(() => { document.querySelector('form[action="/logout"]').requestSubmit(); return true; })()`)
	w.until("it is not logged out", `!document.getElementById("unsent-out").hidden && location.pathname === "/devices"`)
	m.cut.Store(false)
	w.until("it is sent", `localStorage.getItem("hopperful-out") === "[]"`)
	if c := campaignNow(m); !c.Skipped {
		t.Error("what waited is not on record")
	}
	ask[bool](w, `(() => { setTimeout(() => document.querySelector('form[action="/logout"]').requestSubmit()); return true; })()`)
	w.until("the log-in", `location.pathname === "/login"`)
	if left := ask[[]string](w, `caches.keys()`); len(left) != 0 {
		t.Errorf("kept after the log-out: %v", left)
	}
	if left := ask[int](w, `Object.keys(localStorage).filter((k) => k.startsWith("hopperful")).length`); left > 0 {
		t.Errorf("%d things are left in the storage", left)
	}
	// A session ended elsewhere: the next page asked for throws the kept ones away.
	login()
	m.serve(Options{Passphrase: "three loud mills"}) // which knows of no log-in
	w.do("the run", chromedp.Navigate(w.home+at))
	w.until("the log-in", `location.pathname === "/login"`)
	w.untilKept("nothing", at, `(text) => text === null`)
	m.cut.Store(true)
	w.do("the run", chromedp.Navigate(w.home+at))
	w.until("the run is not shown", `document.querySelector(".run") === null`)
}

// The worker is one file for everybody and changes with what it keeps.
func TestTheWorkerIsServed(t *testing.T) {
	t.Parallel()
	one, two := emptyShop(t, Options{Passphrase: "three loud mills", Version: "1"}), emptyShop(t, Options{Version: "2"})
	a, b := one.get(workerPath), two.get(workerPath)
	if a.Code != http.StatusOK || a.Header().Get("Cache-Control") != "no-cache" || !strings.HasPrefix(a.Header().Get("Content-Type"), "text/javascript") {
		t.Errorf("it is answered %d, %v", a.Code, a.Header())
	}
	line := func(s string) string { first, _, _ := strings.Cut(s, "\n"); return first }
	if line(a.Body.String()) == line(b.Body.String()) {
		t.Error("two shops have one worker")
	}
	for _, at := range regexp.MustCompile(`"(/[^"]+)"`).FindAllStringSubmatch(line(a.Body.String()), -1) {
		if w := one.get(at[1]); w.Code != http.StatusOK {
			t.Errorf("%s, to be kept, is answered %d", at[1], w.Code)
		}
	}
	if w := one.post("/logout", nil); w.Header().Get("Clear-Site-Data") == "" {
		// who is not logged in is turned away before; with a session it is said
		if w.Code != http.StatusUnauthorized {
			t.Errorf("a log-out is answered %d without clearing", w.Code)
		}
	}
	if got := one.get(offlinePath).Body.String(); strings.Contains(got, "data-latest") {
		t.Error("the page for who is offline tells of the shop")
	}
}

// before has a script run in every page before its own.
func (w *tab) before(script string) {
	w.t.Helper()
	w.do("a script before each page", chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
		return err
	}))
}

// TestAnOldAnswerDoesNotUndoATouch: the page as it was before a touch, asked for before it and
// here after it, does not show the mill as it stood then.
func TestAnOldAnswerDoesNotUndoATouch(t *testing.T) {
	t.Parallel()
	m, at := served(t, 600, 300)
	w := device(t, "http://"+m.addr)
	w.before(`
  const straight = window.fetch;
  window.fetch = async (what, how) => {
    const answer = await straight(what, how);
    if (what === location.href && window.held === "soon") { window.held = "now"; await new Promise((go) => { window.release = go; }); window.held = "no more"; }
    return answer;
  };`)
	w.at(at)
	ask[bool](w, `(() => { window.held = "soon"; document.dispatchEvent(new Event("page-news")); return true; })()`)
	w.until("the page was asked for", `window.held === "now"`)
	w.thumb("Skip the sheet")
	w.until("the sheet is skipped", atStage+`"ready"`)
	w.until("the server knows", `(localStorage.getItem("hopperful-out") ?? "[]") === "[]"`)
	w.do("wait", chromedp.Sleep(5*shortWait)) // for the news of the touch
	ask[bool](w, `(() => { window.release(); return true; })()`)
	w.until("the old answer is there", `window.held === "no more"`)
	w.do("wait", chromedp.Sleep(3*shortWait))
	if !ask[bool](w, atStage+`"ready"`) {
		t.Error("an old answer put the sheet back")
	}
}

// standIns stand in for what a phone has: a screen that can be held awake, a motor
// that shakes it and a loudspeaker. What is asked of them is written down.
const standIns = `
  window.asked = [];
  let hold = null;
  Object.defineProperty(navigator, "wakeLock", { value: { request: async (what) => {
    window.asked.push("awake " + what);
    hold = new EventTarget();
    return hold; } } });
  window.letGo = () => { window.asked.push("let go"); hold.dispatchEvent(new Event("release")); };
  navigator.vibrate = (how) => { window.asked.push("shake " + JSON.stringify(how)); return true; };
  window.AudioContext = class {
    state = "running"; currentTime = 0; destination = {};
    createOscillator() { return { frequency: {}, connect: (x) => x, start: () => window.asked.push("tone " ), stop: () => {} }; }
    createGain() { return { gain: { setValueAtTime: () => {} }, connect: (x) => x }; }
    resume() { return Promise.resolve(); }
  };`

// TestAwakeShakeAndSound: the screen is held awake, again after the phone was put
// away, and let be when the campaign is over; the end of run and of rest shakes the
// phone and sounds, each once.
func TestAwakeShakeAndSound(t *testing.T) {
	t.Parallel()
	m, at := served(t, 2, 3)
	w := device(t, "http://"+m.addr)
	w.before(standIns)
	w.at(at)
	count := func(what string) int {
		return ask[int](w, `window.asked.filter((x) => x.startsWith("`+what+`")).length`)
	}
	w.until("the screen is held awake", `window.asked.includes("awake screen")`)
	// the phone goes into a pocket: the browser lets go; taken out, the page asks again
	ask[bool](w, `(() => { window.letGo();
  Object.defineProperty(document, "hidden", { value: true, configurable: true }); document.dispatchEvent(new Event("visibilitychange"));
  return true; })()`)
	if n := count("awake"); n != 1 {
		t.Errorf("asked for %d times while nobody looks", n)
	}
	ask[bool](w, `(() => { Object.defineProperty(document, "hidden", { value: false, configurable: true }); document.dispatchEvent(new Event("visibilitychange")); return true; })()`)
	w.until("it is held again", `window.asked.filter((x) => x.startsWith("awake")).length === 2`)

	if n := count("shake") + count("tone"); n != 0 {
		t.Errorf("%d alarms before anything ran", n)
	}
	w.do("a touch", chromedp.MouseClickXY(195, 200)) // a browser shakes and sounds only for who has touched the page
	w.thumb("Skip the sheet")
	w.thumb("It started")
	w.until("the run is over", `document.body.dataset.mill === "over-time"`)
	w.until("it shakes and sounds", `window.asked.some((x) => x.startsWith("shake [500")) && window.asked.filter((x) => x.startsWith("tone")).length === 4`)
	w.thumb("It stopped")
	w.enter("product_kg", "80")
	w.thumb("Write it down")
	w.until("the rest is over", `document.body.dataset.mill === "ready"`)
	w.until("it shakes and sounds again", `window.asked.filter((x) => x.startsWith("shake")).length === 2 && window.asked.filter((x) => x.startsWith("tone")).length === 8`)
	w.do("wait", chromedp.Sleep(10*shortWait))
	if s, n := count("shake"), count("tone"); s != 2 || n != 8 {
		t.Errorf("it shook %d times and sounded %d tones, want once for each end", s, n)
	}
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
}
