package web

import (
	"context"
	"crypto/tls"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"hopperful/internal/web/door"
)

// gatedBench is a shop behind a passphrase.
func gatedBench(t *testing.T) *bench {
	t.Helper()
	return emptyShop(t, Options{Passphrase: "  correct horse\n"})
}

// from asks as that device at that address, with a session if there is one.
func (b *bench) from(method, path, address, agent string, session *http.Cookie, pairs ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, strings.NewReader(answers(pairs...).Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("User-Agent", agent)
	r.RemoteAddr = address + ":4711"
	if session != nil {
		r.AddCookie(session)
	}
	return b.ask(r)
}

// login returns the session's cookie.
func (b *bench) login(address, agent string) *http.Cookie {
	b.t.Helper()
	w := b.from("POST", "/login", address, agent, nil, "passphrase", " correct horse ")
	if len(w.Result().Cookies()) != 1 {
		b.t.Fatalf("the log-in answers %d", w.Code)
	}
	return w.Result().Cookies()[0]
}

// TestTheOwnerGetsInPastAStorm: of thirty wrong log-ins at once from one address
// two are tried, the others are told to come back, and another address gets in.
func TestTheOwnerGetsInPastAStorm(t *testing.T) {
	t.Parallel()
	b := gatedBench(t)
	var mu sync.Mutex
	codes := map[int]int{}
	var all sync.WaitGroup
	for range 30 {
		all.Go(func() {
			w := b.from("POST", "/login", "10.0.0.66", "", nil, "passphrase", "guessed wrong")
			mu.Lock()
			codes[w.Code]++
			mu.Unlock()
			if w.Code == http.StatusTooManyRequests && w.Header().Get("Retry-After") == "" {
				t.Error("a refusal does not say when to come back")
			}
		})
	}
	b.login("10.0.0.7", "")
	all.Wait()
	if codes[http.StatusTooManyRequests] < 20 || codes[http.StatusUnauthorized] < door.MostWaiting || len(codes) != 2 {
		t.Errorf("thirty at once are answered %v", codes)
	}
	b.login("10.0.0.66", "") // the door is free again
}

// TestTheDoorCountsNetworks: an asker has a whole network of IPv6, and all of IPv4
// written as IPv6 is IPv4.
func TestTheDoorCountsNetworks(t *testing.T) {
	t.Parallel()
	for remote, want := range map[string]string{"10.0.0.7:80": "10.0.0.7/32", "[2001:db8:1:2:3:4:5:6]:80": "2001:db8:1:2::/64", "[fe80::1%eth0]:80": "fe80::/64",
		"[::ffff:10.0.0.7]:80": "10.0.0.7/32"} {
		if got := door.AddressOf(&http.Request{RemoteAddr: remote}).String(); got != want {
			t.Errorf("%s is %s, want %s", remote, got, want)
		}
	}
}

// TestLoggingOutEndsTheSession, not only the browser's memory of it; and one device
// can end another, or all.
func TestLoggingOutEndsTheSession(t *testing.T) {
	t.Parallel()
	b := gatedBench(t)
	phone := b.login("10.0.0.7", "Mozilla/5.0 (Android 15; Mobile) Gecko/140.0 Firefox/140.0")
	desk := b.login("10.0.0.8", "Mozilla/5.0 (X11; Linux x86_64) Chrome/142.0 Safari/537.36")
	third := b.login("10.0.0.9", "")
	in := func(c *http.Cookie) bool { return b.from("GET", "/stock", "10.0.0.8", "", c).Code == http.StatusOK }
	page := b.from("GET", "/devices", "10.0.0.8", "", desk).Body.String()
	for _, want := range []string{"Firefox Android", "Chrome Linux", "this one", "10.0.0.7", "A device that does not say what it is", "Log out everywhere"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page of devices lacks %q", want)
		}
	}
	if strings.Contains(page, phone.Value) || strings.Contains(page, desk.Value) {
		t.Error("the page of devices shows a token")
	}
	for _, o := range b.sessions().List() {
		if o.Device == "Firefox Android" {
			b.from("POST", "/devices", "10.0.0.8", "", desk, "id", o.ID)
		}
	}
	if in(phone) || !in(desk) || !in(third) {
		t.Error("ending the phone's session ended the wrong ones")
	}
	b.from("POST", "/logout", "10.0.0.8", "", desk)
	if in(desk) || !in(third) {
		t.Error("a session is still good after its log-out")
	}
	desk = b.login("10.0.0.8", "")
	b.from("POST", "/devices", "10.0.0.8", "", desk, "all", "yes")
	if in(desk) || in(third) {
		t.Error("logging out everywhere leaves a session")
	}
	first := b.login("10.0.0.8", "")
	second := b.from("POST", "/login", "10.0.0.8", "", first, "passphrase", "correct horse").Result().Cookies()[0]
	if first.Value == second.Value || in(first) || !in(second) {
		t.Error("a log-in keeps the token that was there before")
	}
	for range door.MostSessions {
		r := httptest.NewRequest("GET", "/", nil)
		b.sessions().Begin(httptest.NewRecorder(), r)
	}
	if n := len(b.sessions().List()); n != door.MostSessions {
		t.Errorf("%d sessions are kept, want %d", n, door.MostSessions)
	}
}

// sessions are those of the bench's server, which a test made.
func (b *bench) sessions() *door.Sessions { return b.server.Gate.Sessions }

// TestTheCookieIsBoundToHTTPS where the pages are: RFC 6265bis, 4.1.3.2.
func TestTheCookieIsBoundToHTTPS(t *testing.T) {
	t.Parallel()
	b := gatedBench(t)
	for _, secure := range []bool{false, true} {
		r := httptest.NewRequest("POST", "/login", strings.NewReader("passphrase=correct+horse"))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		if secure {
			r.TLS = &tls.ConnectionState{}
		}
		c := b.ask(r).Result().Cookies()[0]
		if c.Secure != secure || strings.HasPrefix(c.Name, "__Host-") != secure || c.Path != "/" || c.Domain != "" || !c.HttpOnly {
			t.Errorf("HTTPS %v: the cookie is %v", secure, c)
		}
	}
}

// TestALineEndsWithItsSession: a page that listens is told nothing more.
func TestALineEndsWithItsSession(t *testing.T) {
	t.Parallel()
	b := gatedBench(t)
	c := b.login("10.0.0.7", "")
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	r := httptest.NewRequestWithContext(ctx, "GET", "/live", nil)
	r.Host = "localhost"
	r.AddCookie(c)
	w := httptest.NewRecorder()
	done := make(chan bool)
	begun := make(chan bool, 1)
	go func() { b.pages.ServeHTTP(&noting{w, begun}, r); close(done) }()
	<-begun
	b.sessions().End("")
	if _, err := b.store.Append(t.Context(), noon, person("Ada")); err != nil {
		t.Fatal(err)
	}
	<-done
	if ctx.Err() != nil || strings.Contains(w.Body.String(), "data: 1") {
		t.Errorf("the line goes on: %q", w.Body.String())
	}
}

// noting says when something was written.
type noting struct {
	*httptest.ResponseRecorder
	begun chan bool
}

func (n *noting) Write(b []byte) (int, error) {
	select {
	case n.begun <- true:
	default:
	}
	return n.ResponseRecorder.Write(b)
}

// TestGuessingEnds: an address that was wrong fifty times is not listened to for an
// hour, whatever it then says; others are, and afterwards so is it.
func TestGuessingEnds(t *testing.T) {
	t.Parallel()
	now := noon
	b := emptyShop(t, Options{Passphrase: "correct horse", Now: func() time.Time { return now }})
	who := door.AddressOf(&http.Request{RemoteAddr: "10.0.0.66:1"})
	for range door.MostWrong {
		b.server.Gate.Note(who)
	}
	right := func(address string) int {
		return b.from("POST", "/login", address, "", nil, "passphrase", "correct horse").Code
	}
	if code := right("10.0.0.66"); code != http.StatusTooManyRequests {
		t.Errorf("after %d wrong ones it answers %d", door.MostWrong, code)
	}
	if code := right("10.0.0.7"); code != http.StatusSeeOther {
		t.Errorf("another address: %d", code)
	}
	now = now.Add(door.WrongFor)
	if code := right("10.0.0.66"); code != http.StatusSeeOther {
		t.Errorf("an hour later: %d", code)
	}
}
