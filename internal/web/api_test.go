package web

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"hopperful/internal/exchange"
	"hopperful/internal/store"
	"hopperful/internal/web/site"
	"hopperful/shop"
)

// call asks the API of a bench with its token.
func call(b *bench, method, path, body string, head ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	r.Header.Set("Authorization", "Bearer rattle")
	r.Header.Set("Content-Type", "application/json")
	for i := 0; i+1 < len(head); i += 2 {
		r.Header.Set(head[i], head[i+1])
	}
	return b.ask(r)
}

// Nothing is told or written without a token of this server, whoever is logged in,
// and nothing for another site's page.
func TestAPIAsksForAToken(t *testing.T) {
	t.Parallel()
	for name, o := range map[string]Options{"open": {}, "door": {Door: &Door{Token: "rattle"}}, "gate": {Door: &Door{Token: "rattle"}, Passphrase: "a long passphrase"}} {
		b := emptyShop(t, o)
		for _, head := range [][]string{{"Authorization", ""}, {"Authorization", "Bearer wrong"}, {"Authorization", "Bearer "}, {"Authorization", "Basic rattle"}} {
			for _, w := range []*httptest.ResponseRecorder{call(b, "GET", "/api/records", "", head...), call(b, "POST", "/api/records", `{"records":[]}`, head...), call(b, "GET", "/api/openapi.json", "", head...)} {
				if w.Code != http.StatusUnauthorized || w.Header().Get("WWW-Authenticate") != "Bearer" {
					t.Errorf("%s: %v is answered %d", name, head, w.Code)
				}
			}
		}
		want := http.StatusOK
		if o.Door == nil { // no token is right where there is none
			want = http.StatusUnauthorized
		}
		if w := call(b, "GET", "/api/next", ""); w.Code != want {
			t.Errorf("%s: with the token %d: %s", name, w.Code, w.Body)
		}
	}
	b := emptyShop(t, Options{Door: &Door{Token: "rattle"}})
	if w := call(b, "POST", "/api/records", `{"records":[]}`, "Origin", "http://elsewhere.example", "Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "cors"); w.Code != http.StatusForbidden {
		t.Errorf("another site's page is answered %d", w.Code)
	}
}

// A program is refused in the language it asks for, and always by the same code.
func TestAPIRefusesInTheLanguageAskedFor(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{Door: &Door{Token: "rattle"}})
	for _, c := range []struct{ method, path, body, en, de, code string }{
		{"GET", "/api/records?after=x", "", `after="x" is no record's number.`, "after=„x“ ist keine Nummer eines Eintrags.", "api.no_number_after"},
		{"GET", "/api/nowhere", "", "There is nothing at this address.", "Unter dieser Adresse gibt es nichts.", "api.nothing_here"},
		{"POST", "/api/records", `{"records":[]}`, "0 records were sent; 1 to ", "0 Einträge wurden gesendet; 1 bis ", "api.wrong_count"},
		{"POST", "/api/records", `{`, "What was sent cannot be read: unexpected EOF.", "Das Gesendete lässt sich nicht lesen: unexpected EOF.", "api.unreadable"},
	} {
		for lang, want := range map[string]string{"": c.en, "en": c.en, "de-AT,de;q=0.9": c.de} {
			var got site.RefusedAnswer
			w := call(b, c.method, c.path, c.body, "Accept-Language", lang)
			if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil || !strings.HasPrefix(got.Error.Say, want) || got.Error.What != c.code || got.Error.Hint == "" {
				t.Errorf("%s in %q: %d %s, %v", c.path, lang, w.Code, w.Body, err)
			}
		}
	}
}

// What is sent is written all or not at all, and each refusal says what and where.
func TestAPIWritesAllOrNothing(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{Door: &Door{Token: "rattle"}})
	good := `{"kind":"taken_in","by":"Ada","body":{"class":"scrap","polymer":"PLA","pieces":{},"mass_kg":1.2}}`
	w := call(b, "POST", "/api/records", `{"records":[`+good+`,`+good+`]}`)
	var kept keptRecords
	if err := json.Unmarshal(w.Body.Bytes(), &kept); err != nil || w.Code != http.StatusCreated || kept.Newest != 2 || len(kept.Records) != 2 || !bytes.Contains(kept.Records[1].Body, []byte(`"S2"`)) {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	for _, c := range []struct {
		name, body, field string
		status            int
	}{
		{"one of two", `{"records":[` + good + `,{"kind":"weighed","body":{"lot":"R9","mass_kg":1}}]}`, "lot", 404},
		{"a slip", `{"records":[{"kind":"weighed","body":{"lot":"S1","mass_kg":1e9}}]}`, "mass_kg", 422},
		{"a kind there is none of", `{"records":[{"kind":"sanded","body":{}}]}`, "kind", 422},
		{"a field there is none of", `{"records":[{"kind":"weighed","body":{"lot":"S1","mass_kg":1,"x":2}}]}`, "", 422},
		{"something else beside", `{"records":[],"more":1}`, "", 400},
		{"nothing", `{"records":[]}`, "", 422},
		{"no JSON", `hello`, "", 400},
		{"too much", `{"records":["` + strings.Repeat("x", mostSent) + `"]}`, "", 413},
	} {
		w := call(b, "POST", "/api/records", c.body)
		var no site.RefusedAnswer
		if err := json.Unmarshal(w.Body.Bytes(), &no); err != nil || w.Code != c.status || no.Error.Say == "" || no.Error.Field != c.field {
			t.Errorf("%s: %d %s", c.name, w.Code, w.Body)
		}
	}
	if w := call(b, "POST", "/api/records", good, "Content-Type", "text/plain"); w.Code != http.StatusUnsupportedMediaType {
		t.Errorf("text is answered %d", w.Code)
	}
	if w := call(b, "GET", "/api/nowhere", ""); w.Code != http.StatusNotFound {
		t.Errorf("nowhere is answered %d", w.Code)
	}
	if n := b.store.State().History.Len(); n != 2 {
		t.Errorf("%d records, wanted the two that were good", n)
	}
	w = call(b, "GET", "/api/records?after=1", "")
	if err := json.Unmarshal(w.Body.Bytes(), &kept); err != nil || len(kept.Records) != 1 || kept.Records[0].ID != 2 {
		t.Errorf("after the first: %s", w.Body)
	}
}

// A command finds the server by the file beside the shop, which only the owner can
// read, and writes through it; where no server answers any more it is told so.
func TestACommandWritesThroughTheDoor(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	path := b.store.Path()
	if _, err := Reach(ctx, path, ""); !errors.Is(err, errNoDoor) {
		t.Fatalf("reached without a door: %v", err)
	}
	door, err := OpenDoor(path)
	if err != nil {
		t.Fatal(err)
	}
	facts, err := os.Stat(store.Beside(path, doorEnding))
	if err != nil || runtime.GOOS != "windows" && facts.Mode().Perm() != 0o600 {
		t.Errorf("%v, mode %v", err, facts.Mode())
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	done := make(chan error, 1)
	go func() { done <- Serve(ctx, l, b.store, Options{Door: door, Passphrase: "a long passphrase"}) }()
	c, err := Reach(ctx, path, "")
	if err != nil {
		t.Fatal(err)
	}
	r := shop.Record{By: "Ada", Body: &shop.TakenIn{Class: shop.Scrap, Mass: 1}}
	kept, err := c.Append(ctx, r, r)
	if err != nil || len(kept) != 2 || kept[1].ID != 2 || kept[0].At.IsZero() || b.store.State().Newest().By != "Ada" {
		t.Fatalf("%v %+v", err, kept)
	}
	var no *Refused
	if _, err := c.Append(ctx, r, shop.Record{Body: &shop.Weighed{Lot: "R9"}}); !errors.As(err, &no) || no.Field != "lot" || b.store.State().History.Len() != 2 {
		t.Errorf("refused with %v", err)
	}
	stop()
	if err := <-done; err != nil {
		t.Fatal(err)
	}
	if err := door.Close(); err != nil {
		t.Error(err)
	}
	if _, err := c.Append(context.Background(), r); err == nil {
		t.Error("written through a server that has ended")
	}
	if _, err := os.Stat(store.Beside(path, doorEnding)); !os.IsNotExist(err) {
		t.Errorf("the door is left behind: %v", err)
	}
}

// A shop on a server may be served twice on one computer: the door that was opened last
// stays when the other is shut.
func TestADoorShutsItselfOnly(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "server-lantern")
	first, err := OpenDoor(path)
	if err != nil {
		t.Fatal(err)
	}
	second, err := OpenDoor(path)
	if err != nil {
		t.Fatal(err)
	}
	file := store.Beside(path, doorEnding)
	if err := first.Close(); err != nil {
		t.Error(err)
	}
	if there, err := readDoor(file); err != nil || there.Token != second.Token {
		t.Errorf("the second cannot be reached: %v", err)
	}
	if err := second.Close(); err != nil {
		t.Error(err)
	}
	if _, err := os.Stat(file); !os.IsNotExist(err) {
		t.Errorf("a door is left behind: %v", err)
	}
}

// A record is the same after its way out and in again.
func TestKeptIsTheRecord(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	for _, r := range b.store.State().History.All() {
		k, err := exchange.KeptOf(r)
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal(k)
		if err != nil {
			t.Fatal(err)
		}
		var back exchange.Kept
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatal(err)
		}
		got, err := back.Record()
		if err != nil || got.ID != r.ID || !got.At.Equal(r.At) || got.By != r.By || got.Note != r.Note || got.Corrects != r.Corrects {
			t.Errorf("%v: %+v became %+v", err, r, got)
		}
	}
}
