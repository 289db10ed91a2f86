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
	"sync"
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

// looked is the invented shop with its prints that tests share which only look at pages:
// each answer is reckoned once for all of them. TestMain ends it.
var looked struct {
	once   sync.Once
	bench  *bench
	folder string
	err    error
}

// shopToLookAt is the planned shop of all tests that write nothing; a form sent there is refused.
func shopToLookAt(t testing.TB) *bench {
	t.Helper()
	looked.once.Do(func() {
		if looked.folder, looked.err = os.MkdirTemp("", "hopperful-looked-*"); looked.err != nil {
			return
		}
		var st *store.Store
		if st, looked.err = store.Create(context.Background(), filepath.Join(looked.folder, "test.shop"), store.Options{}); looked.err != nil {
			return
		}
		o := Options{Now: func() time.Time { return noon }}
		s := newServer(st, o)
		pages := s.handler(o)
		looked.bench = &bench{store: st, server: s, pages: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if r.Method != http.MethodGet && r.Method != http.MethodHead {
				http.Error(w, "this shop is only looked at", http.StatusMethodNotAllowed)
				return
			}
			pages.ServeHTTP(w, r)
		})}
		looked.err = looked.bench.fill()
	})
	if looked.err != nil {
		t.Fatal(looked.err)
	}
	own := *looked.bench
	own.t = t
	return &own
}

// plannedShop is the invented shop with its three prints read from their files.
func plannedShop(t testing.TB, o Options) *bench {
	t.Helper()
	b := emptyShop(t, o)
	if err := b.fill(); err != nil {
		t.Fatal(err)
	}
	return b
}

// fill writes the months of the invented shop and the prints it wants.
func (b *bench) fill() error {
	recs, err := demo.Records(noon, rand.New(rand.NewPCG(1, 1)))
	if err != nil {
		return err
	}
	needs, err := demoNeeds()
	if err != nil {
		return err
	}
	if _, err := b.store.Append(context.Background(), noon, recs...); err != nil {
		return err
	}
	for _, n := range needs {
		if _, err := b.store.Append(context.Background(), noon, shop.Record{Body: &shop.NeedSet{Need: n}}); err != nil {
			return err
		}
	}
	return nil
}

// demoNeeds are the prints of the invented shop, read once from their files.
var demoNeeds = sync.OnceValues(func() (needs []shop.Need, err error) {
	folder, err := os.MkdirTemp("", "hopperful-needs-*")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	if err := demo.WriteFiles(folder); err != nil {
		return nil, err
	}
	for _, f := range demo.Files() {
		text, err := os.ReadFile(filepath.Join(folder, f.Name))
		if err != nil {
			return nil, err
		}
		found, err := consumption.ReadNeed(f.Name, bytes.NewReader(text), int64(len(text)), consumption.Reading{Wall: f.Wall, Infill: f.Infill})
		if err != nil {
			return nil, err
		}
		found.Need.Name, found.Need.Polymer, found.Need.Colour = f.Need, f.Polymer, f.Colour
		needs = append(needs, found.Need)
	}
	return needs, nil
})
