package web

import (
	"bytes"
	"encoding/json"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hopperful/internal/demo"
)

// upload sends a file with some answers to the page of needs.
func (b *bench) upload(name string, content []byte, pairs ...string) *httptest.ResponseRecorder {
	b.t.Helper()
	return b.multipart("/plan", name, content, pairs...)
}

// multipart sends answers, and a file if it has a name, as forms with a file do.
func (b *bench) multipart(path, name string, content []byte, pairs ...string) *httptest.ResponseRecorder {
	b.t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for i := 0; i+1 < len(pairs); i += 2 {
		if err := form.WriteField(pairs[i], pairs[i+1]); err != nil {
			b.t.Fatal(err)
		}
	}
	if name != "" {
		part, err := form.CreateFormFile("file", name)
		if err != nil {
			b.t.Fatal(err)
		}
		part.Write(content) // into memory
	}
	form.Close()
	r := httptest.NewRequest("POST", path, &body)
	r.Header.Set("Content-Type", form.FormDataContentType())
	return b.ask(r)
}

func TestAFileBecomesANeedAndAPlan(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	folder := t.TempDir()
	if err := demo.WriteFiles(folder); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(folder, "feet.3mf"))
	if err != nil {
		t.Fatal(err)
	}
	w := b.upload("feet.3mf", text, "polymer", "pla", "wall", "2", "infill", "50")
	if w.Code != http.StatusSeeOther || !strings.HasPrefix(w.Header().Get("Location"), "/plan/feet?done=") {
		t.Fatalf("the upload answers %d to %q: %s", w.Code, w.Header().Get("Location"), firstHeading(w.Body.String()))
	}
	need, ok := b.store.State().Need("feet")
	if !ok || need.Polymer != "PLA" || need.Volume == nil || need.From != "mesh" {
		t.Fatalf("the need is %+v", need)
	}
}

// TestAPlanIsAlsoForPrograms asks for a plan's JSON and its charts' numbers.
func TestAPlanIsAlsoForPrograms(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	if w := b.post("/plan", answers("mass", "600 g", "name", "bench", "polymer", "PLA", "colour", "black")); w.Code != http.StatusSeeOther {
		t.Fatalf("the need answers %d", w.Code)
	}
	r := httptest.NewRequest("GET", "/plan/bench", nil)
	r.Header.Set("Accept", "application/json")
	w := b.ask(r)
	var g struct {
		Answer  string `json:"answer"`
		Figures []struct {
			Key              string
			Value, Low, High float64
		} `json:"figures"`
		Charts []struct{ Key string } `json:"charts"`
	}
	if err := json.Unmarshal(w.Body.Bytes(), &g); err != nil || w.Header().Get("Content-Type") != "application/json; charset=utf-8" {
		t.Fatalf("the JSON cannot be read: %v", err)
	}
	if f := g.Figures; g.Answer == "" || len(f) < 3 || !(f[0].Low <= f[0].Value && f[0].Value <= f[0].High) || f[0].Key != "charge" || len(g.Charts) == 0 {
		t.Errorf("the JSON says %+v", g)
	}
	for _, c := range g.Charts {
		w := b.get("/plan/bench/" + c.Key + ".csv")
		lines := strings.Split(strings.TrimSpace(w.Body.String()), "\n")
		if w.Code != http.StatusOK || len(lines) < 10 || strings.Count(lines[1], ",") != 4 {
			t.Errorf("%s.csv answers %d with %d lines", c.Key, w.Code, len(lines))
		}
	}
}

func TestATypedMassBecomesANeed(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	w := b.post("/plan", answers("mass", "0,24 kg", "name", "clamp / left", "polymer", "PETG"))
	if w.Code != http.StatusSeeOther {
		t.Fatalf("it answers %d: %s", w.Code, w.Body)
	}
	if w := b.get(w.Header().Get("Location")); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "clamp / left") {
		t.Errorf("a name with a slash is lost: %d", w.Code)
	}
}

// TestBadFilesGetAnAnswer sends files no printer could read. Each must come
// back as the form with a sentence at the file, and write nothing.
func TestBadFilesGetAnAnswer(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	before := b.store.State().Newest().ID
	for name, file := range map[string]struct {
		name    string
		content []byte
	}{
		"empty":             {"a.gcode", nil},
		"no zip":            {"a.3mf", []byte("PK\x03\x04 broken off")},
		"cut off":           {"a.stl", append(make([]byte, 80), 200, 0, 0, 0, 1, 2, 3)},
		"a picture":         {"a.gcode", []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR")},
		"a path for a name": {"../../etc/passwd.stl", []byte("solid x\nfacet")},
	} {
		w := b.upload(file.name, file.content, "polymer", "PLA", "name", "kept name")
		if w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%s answers %d to %s", name, w.Code, w.Header().Get("Location"))
			continue
		}
		if body := w.Body.String(); !strings.Contains(body, `id="f-file-wrong"`) || !strings.Contains(body, "kept name") {
			t.Errorf("%s is not said at the file, or what was typed is lost", name)
		}
	}
	if b.store.State().Newest().ID != before {
		t.Error("a bad file was written down")
	}
}

func TestNothingChosenSaysWhatIsWanted(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	w := b.post("/plan", answers("polymer", "PLA"))
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "Choose a file, or type a mass.") {
		t.Errorf("it answers %d", w.Code)
	}
}

// TestASlowPlanIsToldOf keeps a plan waiting; the page must say so, come back by
// itself, and then show the plan.
func TestASlowPlanIsToldOf(t *testing.T) {
	t.Parallel()
	b := plannedShop(t, Options{})
	s := newServer(b.store, Options{Now: func() time.Time { return noon }})
	b.pages = s.handler(Options{})
	s.Slow.Turn <- struct{}{}
	path := "/plan/door%20wedge"
	w := b.ask(httptest.NewRequest("GET", path, nil))
	if w.Header().Get("Refresh") != "1" || !strings.Contains(w.Body.String(), "Reckoning the plan for door wedge") {
		t.Errorf("while it is reckoned the page says %s", firstHeading(w.Body.String()))
	}
	<-s.Slow.Turn
	if w := b.get(path); w.Header().Get("Refresh") != "" || !strings.Contains(w.Body.String(), "is enough in nine of ten cases") {
		t.Errorf("afterwards the page says %s", firstHeading(w.Body.String()))
	}
}

func TestAPlanThatCannotBeAskedSaysWhy(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	for query, want := range map[string]string{"by=teatime": "is no time", "polymer=mithril": "mithril", "by=2020-01-01T00:00": "is past", "lot=S": "label"} {
		w := b.get("/plan/vase?" + query)
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), want) {
			t.Errorf("%s answers %d: %s", query, w.Code, firstHeading(w.Body.String()))
		}
	}
	if w := b.get("/plan/nothing"); w.Code != http.StatusNotFound {
		t.Errorf("a need that is not there answers %d", w.Code)
	}
}
