package web

import (
	"context"
	"math/rand/v2"
	"net"
	"net/http"
	"net/url"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"hopperful/internal/demo"
	"hopperful/internal/store"
	"hopperful/internal/web/address"
	"hopperful/internal/web/site"
)

// TestAShopToLookAtOffersNothingThatWrites: every page is shown and says so, none
// has a form that writes or a link to a sheet, and what is sent all the same is refused.
func TestAShopToLookAtOffersNothingThatWrites(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "still.shop")
	st, err := store.Create(t.Context(), path, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	recs, err := demo.Records(noon, rand.New(rand.NewPCG(1, 1)))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := st.Append(t.Context(), noon, recs...); err != nil {
		t.Fatal(err)
	}
	writable := benchOf(t, st, Options{Now: func() time.Time { return noon }})
	had := 0
	pagesOf := []string{"/", "/stock", "/stock/S1", "/stock/R1", "/plan", "/machines", "/materials", "/records", "/records/20", "/fit", "/blend", "/dry/R1", "/machines/Rattle/learn", "/stock/R1/grains"}
	for _, path := range pagesOf {
		page := writable.get(path).Body.Bytes()
		had += len(site.SendingForm.FindAll(page, -1)) + len(site.SheetLink.FindAll(page, -1))
	}
	if had < 20 {
		t.Errorf("only %d forms and links to sheets are recognised in a shop that can be written", had)
	}
	st.Close()
	if st, err = store.Open(t.Context(), path, store.Options{ReadOnly: true}); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	b := benchOf(t, st, Options{Now: func() time.Time { return noon }})
	for _, path := range pagesOf {
		w := b.get(path)
		text := w.Body.String()
		if w.Code != http.StatusOK || !strings.Contains(text, "This shop can only be looked at") || !strings.Contains(text, "</html>") {
			t.Errorf("%s answers %d and does not say that it only shows", path, w.Code)
		}
		for _, bad := range []string{`method="post"`, `href="/record/`, `href="/start/`} {
			if strings.Contains(text, bad) {
				t.Errorf("%s still has %s", path, bad)
			}
		}
	}
	for _, path := range []string{"/record/charge", "/start/mill", "/records/20/correct"} {
		if w := b.get(path); w.Code != http.StatusServiceUnavailable || !strings.Contains(w.Body.String(), "may not be written") {
			t.Errorf("%s answers %d", path, w.Code)
		}
	}
	if w := b.post("/records/20/void", url.Values{}); w.Code != http.StatusServiceUnavailable {
		t.Errorf("striking out answers %d", w.Code)
	}
}

// TestStoppingLetsWhatIsUnderWayFinish: of forty writes under way when the program
// is told to stop, each is answered as always or not at all, and every one that was
// acknowledged is in the shop.
func TestStoppingLetsWhatIsUnderWayFinish(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	done := make(chan error, 1)
	go func() { done <- Serve(ctx, l, b.store, Options{}) }()
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	first := make(chan bool, 40)
	var mu sync.Mutex
	codes := map[int]int{}
	var all sync.WaitGroup
	for i := range 40 {
		all.Go(func() {
			res, err := client.PostForm("http://"+l.Addr().String()+"/record/person", answers("name", "person "+address.Number(i)))
			first <- true
			if err != nil {
				return // the line was closed before anything was read
			}
			res.Body.Close()
			mu.Lock()
			codes[res.StatusCode]++
			mu.Unlock()
		})
	}
	<-first
	stop()
	all.Wait()
	if err := <-done; err != nil {
		t.Errorf("it ends with %v", err)
	}
	kept := b.store.State().History.Len()
	if codes[http.StatusSeeOther] != kept || len(codes) != 1 {
		t.Errorf("answers by their code: %v; %d records are kept", codes, kept)
	}
	if kept < 1 {
		t.Errorf("only %d were under way", kept)
	}
}
