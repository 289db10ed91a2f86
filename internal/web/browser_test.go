package web

import (
	"context"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"hopperful/internal/account"
)

// tab is one window of a real browser, looking at a served shop.
type tab struct {
	t    *testing.T
	ctx  context.Context
	home string
	seen glance

	mu     sync.Mutex
	faults []string // what the browser complained of: policy violations, script errors
}

// glance is how a tab is looked at.
type glance struct {
	width, height int64
	dark          bool
}

// chromium finds a browser: the one that never had a window, where it is installed, since the
// same pages take it about half the work. Without any the test is skipped, but not where every
// test has to run.
func chromium(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"chromium-headless-shell", "chromium", "chromium-browser", "google-chrome", "chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("CI") != "" {
		t.Fatal("no Chromium is installed; install it with apt-get install --no-install-recommends chromium-headless-shell")
	}
	t.Skip("no Chromium is installed")
	return ""
}

// browsers is the one browser all tests share; each has its own windows.
var browsers struct {
	once sync.Once
	ctx  context.Context
	end  func()
	err  error
}

// oneBrowser is the browser of this test run.
func oneBrowser(t *testing.T) context.Context {
	t.Helper()
	path := chromium(t)
	browsers.once.Do(func() { startBrowser(path) })
	if browsers.err != nil {
		t.Fatalf("the browser does not start: %v", browsers.err)
	}
	return browsers.ctx
}

// TestMain ends what all tests share when they are done: the browser and a shop.
func TestMain(m *testing.M) {
	account.CheapInTests()
	code := m.Run()
	if looked.bench != nil {
		looked.bench.store.Close()
	}
	if looked.folder != "" {
		os.RemoveAll(looked.folder)
	}
	if browsers.end != nil {
		browsers.end()
	}
	os.Exit(code)
}

func startBrowser(path string) {
	opts := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-dev-shm-usage", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true), chromedp.Flag("no-first-run", true),
		// Each page lives for a moment: what its scripts would gain by being compiled well costs more.
		chromedp.Flag("js-flags", "--no-opt,--no-maglev"))
	alloc, endAlloc := chromedp.NewExecAllocator(context.Background(), opts...)
	ctx, end := chromedp.NewContext(alloc)
	browsers.ctx, browsers.end = ctx, func() { end(); endAlloc() }
	// The first call starts the browser; a limit on it would end it again.
	browsers.err = chromedp.Do(ctx, chromedp.Navigate("about:blank"))
}

// open serves the shop and opens its first page in a window of the browser.
func open(t *testing.T, browser context.Context, b *bench) *tab {
	t.Helper()
	srv := httptest.NewServer(b.pages)
	t.Cleanup(srv.Close)
	return window(t, browser, srv.URL)
}

// window is one more window on a served shop.
func window(t *testing.T, browser context.Context, home string, how ...chromedp.ContextOption) *tab {
	t.Helper()
	ctx, end := chromedp.NewContext(browser, how...)
	t.Cleanup(end)
	w := &tab{t: t, ctx: ctx, home: home}
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(1280, 900)); err != nil {
		t.Fatalf("no window: %v", err)
	}
	err := chromedp.Listen(ctx, func(ev any) {
		w.mu.Lock()
		defer w.mu.Unlock()
		switch e := ev.(type) {
		case *log.EventEntryAdded:
			if e.Entry.Level == log.EntryLevelError && e.Entry.Source != log.EntrySourceNetwork {
				w.faults = append(w.faults, e.Entry.Text)
			}
		case *runtime.EventExceptionThrown:
			text := e.ExceptionDetails.Text + " at " + e.ExceptionDetails.URL
			if e.ExceptionDetails.Exception != nil {
				text += " " + e.ExceptionDetails.Exception.Description
			}
			w.faults = append(w.faults, text)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// What a slow machine on which everything runs at once still does. Only a page
// that hangs takes longer: a limit bounds the wait for it and measures nothing.
const (
	stepLimit = time.Minute     // one step, or what a page shall come to show
	axeLimit  = 3 * time.Minute // one look of the accessibility checker: a plan's page takes seconds on a quiet machine
	shortWait = 50 * time.Millisecond
)

// do runs steps within a bounded time.
func (w *tab) do(what string, steps ...chromedp.Action[chromedp.Void]) {
	w.t.Helper()
	ctx, end := context.WithTimeout(w.ctx, stepLimit)
	defer end()
	if err := chromedp.Do(ctx, steps...); err != nil {
		w.t.Fatalf("%s: %v", what, err)
	}
}

// ask evaluates JavaScript in the page.
func ask[T any](w *tab, script string) T {
	w.t.Helper()
	return askWithin[T](w, stepLimit, script)
}

// askWithin is ask with a limit of its own.
func askWithin[T any](w *tab, limit time.Duration, script string) T {
	w.t.Helper()
	ctx, end := context.WithTimeout(w.ctx, limit)
	defer end()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		w.t.Fatalf("%s: %v", script, err)
	}
	return v
}

// at goes to an address.
func (w *tab) at(path string) {
	w.t.Helper()
	w.do(path, chromedp.Navigate(w.home+path))
	w.until("the plan is reckoned", `!document.querySelector("progress")`)
}

// look sets the size of the window and the light.
func (w *tab) look(width, height int64, dark bool) {
	w.t.Helper()
	w.seen = glance{width, height, dark}
	scheme := "light"
	if dark {
		scheme = "dark"
	}
	w.do("setting the window", chromedp.EmulateViewport(width, height), chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		return err
	}))
}

// picture keeps what the window shows, for people to look at. Where nobody keeps
// pictures none is taken: TestPictures shows that pages can be drawn.
func (w *tab) picture(name string) {
	w.t.Helper()
	if os.Getenv("HOPPERFUL_ARTEFACTS") == "" {
		return
	}
	w.keep(name, chromedp.FullScreenshot(100))
}

// keep takes a picture one way or the other and stores it.
func (w *tab) keep(name string, shot chromedp.Action[[]byte]) {
	w.t.Helper()
	ctx, end := context.WithTimeout(w.ctx, stepLimit)
	defer end()
	png, err := chromedp.Run(ctx, shot)
	if err != nil {
		w.t.Fatalf("picture %s: %v", name, err)
	}
	folder := os.Getenv("HOPPERFUL_ARTEFACTS")
	if folder == "" {
		folder = w.t.TempDir()
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		w.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, name+".png"), png, 0o644); err != nil {
		w.t.Fatal(err)
	}
}

// until waits until something in the page is so.
func (w *tab) until(what, script string) {
	w.t.Helper()
	for last := time.Now().Add(stepLimit); time.Now().Before(last); {
		// Between two pages there is nothing to ask, which is no fault.
		ctx, end := context.WithTimeout(w.ctx, 5*time.Second)
		so, err := chromedp.Run(ctx, chromedp.Evaluate[bool](`!!document.querySelector("h1") && (`+script+`)`))
		end()
		if err == nil && so {
			return
		}
		w.do("waiting", chromedp.Sleep(shortWait))
	}
	w.t.Fatalf("%s: in vain; the page says %q", what, ask[string](w, `document.querySelector("h1").textContent`))
}

// complaints are what the browser complained of since the last call.
func (w *tab) complaints() []string {
	w.mu.Lock()
	defer w.mu.Unlock()
	list := w.faults
	w.faults = nil
	return list
}
