package web

import (
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"
	"time"

	"hopperful/internal/account"
	"hopperful/shop"
)

// as logs an account in and returns its cookie.
func (b *bench) as(name, passphrase string) *http.Cookie {
	b.t.Helper()
	w := b.from("POST", "/login", "10.0.0.8", "Mozilla/5.0 (Linux; Android 15) Firefox/140.0", nil, "name", name, "passphrase", passphrase, "next", "/stock")
	if len(w.Result().Cookies()) != 1 || w.Header().Get("Location") != "/stock" {
		b.t.Fatalf("%s logs in: %d", name, w.Code)
	}
	return w.Result().Cookies()[0]
}

// TestAccountsOnThePages: the first is made on the page and owns the shop; then nothing
// is shown to whom has none, each role sees and may what it may, tokens open the API, and
// log-outs end what they say.
func TestAccountsOnThePages(t *testing.T) {
	t.Parallel()
	now := noon
	b := emptyShop(t, Options{Now: func() time.Time { return now }})
	do := func(path string, who *http.Cookie, pairs ...string) (int, string) {
		t.Helper()
		method := "GET"
		if pairs != nil {
			method = "POST"
		}
		w := b.from(method, path, "10.0.0.8", "", who, pairs...)
		return w.Code, w.Body.String() + w.Header().Get("Location")
	}
	const ada, ben = "four loud mills", "three wet dryers"
	if code, page := do("/accounts", nil); code != http.StatusOK || !strings.Contains(page, "The first account owns the shop") {
		t.Fatalf("the page of none: %d", code)
	}
	if code, page := do("/accounts", nil, "do", "add", "name", "Ada", "role", "own", "passphrase", "short"); code != http.StatusUnprocessableEntity || !strings.Contains(page, `value="Ada"`) || !strings.Contains(page, "at least 12") || strings.Contains(page, `"short"`) {
		t.Errorf("a short passphrase: %d", code)
	}
	if code, _ := do("/accounts", nil, "do", "add", "name", "Ada", "role", "own", "passphrase", ada); code != http.StatusSeeOther {
		t.Fatalf("the first: %d", code)
	}
	for _, path := range []string{"/", "/stock", "/accounts", "/devices", "/live", "/export/shop.csv", "/records"} {
		if code, to := do(path, nil); code != http.StatusSeeOther || !strings.Contains(to, "/login?next=") {
			t.Errorf("%s is shown to nobody: %d", path, code)
		}
	}
	if code, _ := do("/record/take-in", nil, "mass_kg", "1 kg", "class", "scrap"); code != http.StatusUnauthorized {
		t.Errorf("nobody writes: %d", code)
	}
	for _, path := range []string{workerPath, offlinePath} { // which tell nothing of the shop
		if code, to := do(path, nil); code != http.StatusOK {
			t.Errorf("%s is answered %d, %s", path, code, to)
		}
	}
	german := httptest.NewRequest("POST", "/record/take-in", nil)
	german.Header.Set("Accept-Language", "de")
	if w := b.ask(german); !strings.Contains(w.Body.String(), "Deine Anmeldung ist abgelaufen") {
		t.Errorf("in German it says %s", w.Body)
	}
	if code, page := do("/login", nil, "name", "Ada", "passphrase", ben); code != http.StatusUnauthorized || !strings.Contains(page, `value="Ada"`) {
		t.Errorf("a wrong passphrase: %d", code)
	}
	owner := b.as("Ada", ada)
	for name, role := range map[string]account.Role{"Ben": account.Record, "Cas": account.Look} {
		if code, _ := do("/accounts", owner, "do", "add", "name", name, "role", string(role), "passphrase", ben); code != http.StatusSeeOther {
			t.Fatalf("%s: %d", name, code)
		}
	}
	worker, guest := b.as("Ben", ben), b.as("Cas", ben)
	take := []string{"mass_kg", "1 kg", "class", "scrap", "polymer", "PLA"}
	for who, c := range map[string]struct {
		cookie     *http.Cookie
		take, mill int
		sheet      bool
	}{"Ada": {owner, 303, 303, true}, "Ben": {worker, 303, 403, false}, "Cas": {guest, 403, 403, false}} {
		if code, _ := do("/record/take-in", c.cookie, take...); code != c.take {
			t.Errorf("%s takes in: %d", who, code)
		}
		if code, _ := do("/record/mill", c.cookie, "mill.name", "Rattle of "+who); code != c.mill {
			t.Errorf("%s describes a mill: %d", who, code)
		}
		if _, page := do("/machines", c.cookie); strings.Contains(page, `href="/record/mill"`) != c.sheet {
			t.Errorf("%s is offered a sheet for a mill: %v", who, !c.sheet)
		}
		if code, page := do("/accounts", c.cookie); code != http.StatusOK || strings.Contains(page, "<h2>Cas") != (who != "Ben") || strings.Contains(page, `value="add"`) != (who == "Ada") {
			t.Errorf("the page of accounts as %s sees it: %d", who, code)
		}
	}
	do("/tokens", guest, "name", "meter", "scope", "record")
	if all, err := b.server.tokens.List(); err != nil || len(all) != 0 {
		t.Errorf("Cas made a token of no account: %v, %v", all, err)
	}
	if n := b.store.State().Newest(); n.By != "Ben" && n.By != "Ada" {
		t.Errorf("nobody wrote %+v", n)
	}
	if code, _ := do("/accounts", worker, "do", "role", "name", "Ben", "role", "own"); code != http.StatusUnprocessableEntity {
		t.Errorf("Ben makes himself owner: %d", code)
	}
	_, page := do("/accounts", worker, "do", "token", "name", "Ben", "program", "scale")
	token := regexp.MustCompile(`<code>([A-Z2-7]{52})</code>`).FindStringSubmatch(page)
	if token == nil {
		t.Fatal("no token was shown")
	}
	api := func(token string) int {
		r := httptest.NewRequest("GET", "/api/records", nil)
		r.Header.Set("Authorization", "Bearer "+token)
		return b.ask(r).Code
	}
	if api(token[1]) != http.StatusOK || api("") != http.StatusUnauthorized || api(worker.Value) != http.StatusUnauthorized {
		t.Error("what opens the API")
	}
	if _, page := do("/devices", worker); !strings.Contains(page, "scale") || strings.Contains(page, "Cas:") || strings.Contains(page, token[1]) {
		t.Error("the devices of Ben")
	}
	if _, page := do("/devices", owner); !strings.Contains(page, "Cas:") || !strings.Contains(page, "Ben:") {
		t.Error("the devices of all")
	}
	do("/logout", guest, "x", "x")
	if code, _ := do("/stock", guest); code != http.StatusSeeOther {
		t.Errorf("Cas logged out and is in: %d", code)
	}
	do("/devices", worker, "all", "yes")
	if code, _ := do("/stock", worker); code != http.StatusSeeOther || api(token[1]) != http.StatusUnauthorized {
		t.Errorf("Ben logged out everywhere and is in: %d", code)
	}
	if code, _ := do("/stock", owner); code != http.StatusOK {
		t.Errorf("Ada was logged out with Ben: %d", code)
	}
	now = now.Add(31 * 24 * time.Hour)
	if code, _ := do("/stock", owner); code != http.StatusSeeOther {
		t.Errorf("a log-in of a month ago: %d", code)
	}
	if _, ok := b.store.State().Newest().Body.(*shop.Void); ok {
		t.Error("something was struck out")
	}
}

// TestATokenMayWhatItsAccountMay: who only looks writes nothing over the API either, also
// what is kept beside the records.
func TestATokenMayWhatItsAccountMay(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	const words = "four loud mills"
	ada := account.As(t.Context(), "Ada")
	for _, a := range []account.Account{{Name: "Ada", Role: account.Own}, {Name: "Ben", Role: account.Record}, {Name: "Cas", Role: account.Look}} {
		if err := b.store.AddAccount(ada, noon, a.Name, a.Role, words); err != nil {
			t.Fatal(err)
		}
	}
	for name, want := range map[string]int{"Ada": http.StatusNotFound, "Ben": http.StatusNotFound, "Cas": http.StatusForbidden} { // no run was seen
		token, err := b.store.Begin(ada, noon, account.Session{Account: name, Program: "scale"})
		if err != nil {
			t.Fatal(err)
		}
		ask := func(method, path, body string) int {
			r := httptest.NewRequest(method, path, strings.NewReader(body))
			r.Header.Set("Authorization", "Bearer "+token)
			r.Header.Set("Content-Type", "application/json")
			return b.ask(r).Code
		}
		if got := ask("POST", "/api/sensors/aside", `{"id": 1}`); got != want {
			t.Errorf("%s sets a run aside: %d", name, got)
		}
		if got := ask("GET", "/api/records", ""); got != http.StatusOK {
			t.Errorf("%s reads: %d", name, got)
		}
	}
}
