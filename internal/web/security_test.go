package web

import (
	"bytes"
	"context"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hopperful/internal/store"
	"hopperful/internal/web/address"
	"hopperful/internal/web/assets"
	"hopperful/internal/web/door"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
)

func TestEveryAnswerCarriesThePolicy(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	for _, path := range []string{"/", "/nowhere", assets.Path("app.css"), "/plan"} {
		h := b.get(path).Header()
		policy := h.Get("Content-Security-Policy")
		for _, part := range []string{"default-src 'self'", "script-src 'self'", "frame-ancestors 'none'", "object-src 'none'", "base-uri 'none'", "form-action 'self'"} {
			if !strings.Contains(policy, part) {
				t.Errorf("%s: the policy lacks %q: %s", path, part, policy)
			}
		}
		if strings.Contains(policy, "unsafe") {
			t.Errorf("%s: the policy allows something unsafe: %s", path, policy)
		}
		if h.Get("X-Content-Type-Options") != "nosniff" || h.Get("Referrer-Policy") == "" {
			t.Errorf("%s: headers are missing: %v", path, h)
		}
	}
}

func TestAForeignPageCannotWrite(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	for name, header := range map[string][2]string{"fetch metadata": {"Sec-Fetch-Site", "cross-site"}, "origin": {"Origin", "https://elsewhere.example"}} {
		r := httptest.NewRequest("POST", "/record/person", strings.NewReader("name=Mallory"))
		r.Host = "localhost"
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set(header[0], header[1])
		if w := b.ask(r); w.Code != http.StatusForbidden {
			t.Errorf("%s: a write from elsewhere answers %d", name, w.Code)
		}
	}
	if n := b.store.State().History.Len(); n != 0 {
		t.Errorf("%d records were written from elsewhere", n)
	}
}

func TestANameThatIsNotOursIsRefused(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{Hosts: []string{"mill.local"}})
	for host, want := range map[string]int{
		"localhost:8080": 200, "127.0.0.1:8080": 200, "[::1]:8080": 200, "192.168.1.7": 200, "mill.local:8080": 200, "MILL.LOCAL.": 200,
		"rebound.example": 421, "localhost.evil.example": 421, "": 421,
	} {
		r := httptest.NewRequest("GET", "/", nil)
		r.Host = host
		w := httptest.NewRecorder()
		b.pages.ServeHTTP(w, r)
		if w.Code != want {
			t.Errorf("%q answers %d, want %d", host, w.Code, want)
		}
	}
}

func TestWithAPassphraseNothingIsShownBefore(t *testing.T) {
	t.Parallel()
	now := noon
	b := demoShop(t, Options{Passphrase: "correct horse", Now: func() time.Time { return now }})
	w := b.get("/stock")
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/login?next=%2Fstock" {
		t.Fatalf("without a session: %d to %s", w.Code, w.Header().Get("Location"))
	}
	if w := b.post("/record/person", answers("name", "Mallory")); w.Code != http.StatusUnauthorized {
		t.Errorf("a write without a session answers %d", w.Code)
	}
	if w := b.post("/login", answers("passphrase", "wrong", "next", "/stock")); w.Code != http.StatusUnauthorized || len(w.Result().Cookies()) != 0 {
		t.Errorf("a wrong passphrase answers %d", w.Code)
	}
	w = b.post("/login", answers("passphrase", "correct horse", "next", "/stock"))
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/stock" {
		t.Fatalf("the right passphrase: %d to %s", w.Code, w.Header().Get("Location"))
	}
	c := w.Result().Cookies()[0]
	if !c.HttpOnly || c.SameSite != http.SameSiteLaxMode {
		t.Errorf("the session's cookie can be read or sent from elsewhere: %v", c)
	}
	with := func(value string) int {
		r := httptest.NewRequest("GET", "/stock", nil)
		r.AddCookie(&http.Cookie{Name: c.Name, Value: value})
		return b.ask(r).Code
	}
	if code := with(c.Value); code != http.StatusOK {
		t.Errorf("with a session: %d", code)
	}
	forged := []byte(c.Value)
	forged[20] ^= 1 // still a letter, another signature
	if code := with(string(forged)); code == http.StatusOK {
		t.Error("a forged session is taken")
	}
	now = now.Add(door.SessionLife + time.Hour)
	if code := with(c.Value); code == http.StatusOK {
		t.Error("a session that is over is taken")
	}
}

func TestALinkNeverLeadsAway(t *testing.T) {
	t.Parallel()
	for wanted, ok := range map[string]bool{"/stock": true, "/plan/a%20b?x=1": true,
		"//elsewhere.example": false, "https://elsewhere.example": false, `/\elsewhere.example`: false, "": false, "stock": false, "/a\nb": false} {
		if got := address.Local(wanted, "/else"); (got == wanted) != ok {
			t.Errorf("%q becomes %q", wanted, got)
		}
	}
}

func TestAFormHasABound(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	w := b.post("/record/person", url.Values{"name": {strings.Repeat("x", forms.MostForm)}})
	if w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("a form of over a megabyte answers %d", w.Code)
	}
}

func TestTheLogHoldsNoAnswers(t *testing.T) {
	t.Parallel()
	var log bytes.Buffer
	b := emptyShop(t, Options{Passphrase: "correct horse", Logger: slog.New(slog.NewTextHandler(&log, nil))})
	b.post("/login?next=/secret-place", answers("passphrase", "a wrong one"))
	b.get("/stock?name=somebody")
	for _, secret := range []string{"wrong one", "correct horse", "somebody", "secret-place"} {
		if strings.Contains(log.String(), secret) {
			t.Errorf("the log holds %q: %s", secret, log.String())
		}
	}
	if !strings.Contains(log.String(), "path=/stock") {
		t.Errorf("the log lacks the request: %s", log.String())
	}
}

func TestAFaultInAPageIsAnAnswer(t *testing.T) {
	t.Parallel()
	s := &server{Site: &site.Site{Log: slog.New(slog.DiscardHandler)}}
	h := s.Logged(s.Recovered(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { panic("broken on purpose") })))
	w := httptest.NewRecorder()
	h.ServeHTTP(w, httptest.NewRequest("GET", "/", nil))
	if w.Code != http.StatusInternalServerError {
		t.Errorf("a fault answers %d", w.Code)
	}
}

// TestAFileThatCannotBeWrittenSaysSo serves a shop that another program holds.
func TestAFileThatCannotBeWrittenSaysSo(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "held.shop")
	st, err := store.Create(context.Background(), path, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	st.Close()
	if st, err = store.Open(context.Background(), path, store.Options{ReadOnly: true}); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	b := benchOf(t, st, Options{Now: func() time.Time { return noon }})
	w := b.post("/record/person", answers("name", "Ada"))
	if w.Code != http.StatusServiceUnavailable || !strings.Contains(w.Body.String(), "Nothing was written.") {
		t.Errorf("it answers %d: %s", w.Code, firstHeading(w.Body.String()))
	}
}

// TestServingEndsWhenTold stops a served shop while a page listens for news.
func TestServingEndsWhenTold(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- Serve(ctx, l, b.store, Options{}) }()
	line, err := http.Get("http://" + l.Addr().String() + "/live")
	if err != nil {
		t.Fatal(err)
	}
	defer line.Body.Close()
	first := make([]byte, 32)
	if n, err := line.Body.Read(first); err != nil || !strings.HasPrefix(string(first[:n]), "event: record\ndata: 0") {
		t.Errorf("the line begins with %q, %v", first[:n], err)
	}
	stop()
	select {
	case err := <-done:
		if err != nil {
			t.Errorf("it ends with %v", err)
		}
	case <-time.After(2 * stopTime):
		t.Error("it does not end")
	}
}
