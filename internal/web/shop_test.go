package web

import (
	"bytes"
	"context"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hopperful/internal/demo"
	"hopperful/internal/store"
	"hopperful/plan/consumption"
	"hopperful/shop"
)

// noon is when the shops of these tests stand still.
var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// bench is a shop with its pages, in a folder that goes with the test.
type bench struct {
	t     testing.TB
	store *store.Store
	pages http.Handler

	server *server // behind pages, where a test asks it
}

// looksOnly leaves a test out of a short run that only looks at pages: with the
// race detector it would take long, and nothing in it happens at once.
func looksOnly(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("looks at pages only")
	}
}

// emptyShop is a new shop nothing was written in.
func emptyShop(t testing.TB, o Options) *bench {
	t.Helper()
	st, err := store.Create(context.Background(), filepath.Join(t.TempDir(), "test.shop"), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { st.Close() })
	if o.Now == nil {
		o.Now = func() time.Time { return noon }
	}
	return benchOf(t, st, o)
}

// benchOf shows a shop's pages.
func benchOf(t testing.TB, st *store.Store, o Options) *bench {
	s := newServer(st, o)
	return &bench{t, st, s.handler(o), s}
}

// person is a record of somebody.
func person(name string) shop.Record { return shop.Record{Body: &shop.PersonSet{Name: name}} }

// demoShop is the invented shop with its months of records.
func demoShop(t testing.TB, o Options) *bench {
	t.Helper()
	b := emptyShop(t, o)
	recs, err := demo.Records(noon, rand.New(rand.NewPCG(1, 1)))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.store.Append(context.Background(), noon, recs...); err != nil {
		t.Fatal(err)
	}
	return b
}

// get asks for a page, as often as a plan on it is still being reckoned.
func (b *bench) get(path string) *httptest.ResponseRecorder {
	b.t.Helper()
	for {
		w := b.ask(httptest.NewRequest("GET", path, nil))
		if w.Header().Get("Refresh") == "" {
			return w
		}
	}
}

// post sends a form as the program's own page would.
func (b *bench) post(path string, form url.Values) *httptest.ResponseRecorder {
	b.t.Helper()
	r := httptest.NewRequest("POST", path, strings.NewReader(form.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return b.ask(r)
}

func (b *bench) ask(r *http.Request) *httptest.ResponseRecorder {
	b.t.Helper()
	if r.Host == "example.com" {
		r.Host = "localhost"
	}
	w := httptest.NewRecorder()
	b.pages.ServeHTTP(w, r)
	return w
}

// form pairs names with answers.
func answers(pairs ...string) url.Values {
	v := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		v.Add(pairs[i], pairs[i+1])
	}
	return v
}

// plannedShop is the invented shop with its three prints read from their files.
func plannedShop(t testing.TB, o Options) *bench {
	t.Helper()
	b := demoShop(t, o)
	folder := t.TempDir()
	if err := demo.WriteFiles(folder); err != nil {
		t.Fatal(err)
	}
	for _, f := range demo.Files() {
		text, err := os.ReadFile(filepath.Join(folder, f.Name))
		if err != nil {
			t.Fatal(err)
		}
		found, err := consumption.ReadNeed(f.Name, bytes.NewReader(text), int64(len(text)), consumption.Reading{Wall: f.Wall, Infill: f.Infill})
		if err != nil {
			t.Fatal(err)
		}
		found.Need.Name, found.Need.Polymer, found.Need.Colour = f.Need, f.Polymer, f.Colour
		if _, err := b.store.Append(context.Background(), noon, shop.Record{Body: &shop.NeedSet{Need: found.Need}}); err != nil {
			t.Fatal(err)
		}
	}
	return b
}
