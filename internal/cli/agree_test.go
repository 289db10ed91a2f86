package cli

import (
	"context"
	"encoding/json"
	"fmt"
	"html"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/internal/say"
	"hopperful/internal/store"
	"hopperful/internal/web"
)

// Rooms are held to each other in package plan. This asks what people see: the same question
// on the command line, as JSON and as text, and on a page, as HTML and as JSON, must show
// the same figures, whatever the shop.
func TestPagesAndCommandsAgree(t *testing.T) {
	t.Parallel()
	rough := t.TempDir()
	begin(t, rough)
	if _, errs, code := answerOf(rough, split("need 240g --polymer PLA --save vase")); code != exitDone {
		t.Fatal(errs)
	}
	agree(t, rough)
	for seed := range uint64(3) {
		folder := t.TempDir()
		anyShop(t, folder, seed)
		agree(t, folder)
	}
}

// anyShop makes a small shop by commands: unknown parts, rough records, slips of the pen. What
// the shop refuses is passed over, as a person would.
func anyShop(t *testing.T, folder string, seed uint64) {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 7))
	do := func(format string, a ...any) { answerOf(folder, split(fmt.Sprintf(format, a...))) }
	one := func(words ...string) string { return words[r.IntN(len(words))] }
	do("machines set mill --name Howler --rated 2kW %s %s", one("", "--chamber 1l", "--chamber 2l"), one("", "--hole 2mm", "--hole 3mm --controller-levels 10"))
	plastic := one("PLA", "PETG")
	do("take-in %dg --polymer %s %s %s", 300+r.IntN(1500), plastic, one("", "--colour black"), one("", "--halogen no"))
	do("take-in %dg %s", 200+r.IntN(900), one("", "--polymer PVC", "--polymer PA6 --halogen no"))
	do("%s", one("machines set scale --name Bench --resolution 1g", "next"))
	do("%s", one("machines set dryer --name Warm --way dehydrator", "machines set dryer --name Warm --way \"dry air\"", "next"))
	do("%s", one("machines set printer --name Screw --nozzle 1.2mm", "next"))
	for range 1 + r.IntN(4) {
		charge := 40 + r.IntN(80)
		product := charge * (70 + r.IntN(30)) / 100
		if r.IntN(5) == 0 {
			product *= 10
		}
		do("record ground --mill Howler --from S1 --charge %dg --run %ds %s", charge, 60+r.IntN(120), one("", fmt.Sprintf("--product %dg", product)))
	}
	do("%s", one("record magnet R1 --metal 0g", "record sieved R1 --charge 50g --sieve 2mm=8g --sieve 1mm=30g --sieve 0.5mm=9g --pan 3g", "next"))
	if _, errs, code := answerOf(folder, split(fmt.Sprintf("need %dg --polymer %s --save vase", 30+r.IntN(400), plastic))); code != exitDone {
		t.Fatal(errs)
	}
}

// agree asks one shop in every way.
func agree(t *testing.T, folder string) {
	t.Helper()
	st, err := store.Open(context.Background(), filepath.Join(folder, "lantern.hopperful"), store.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	now := time.Now()
	s := surface{t, folder, now, web.New(st, web.Options{Now: func() time.Time { return now }})}
	s.question("next", "/")
	s.question("plan vase", "/plan/vase")
	for _, id := range st.State().Order[:min(4, len(st.State().Order))] {
		lot := string(id)
		s.question("dry "+lot, "/dry/"+lot)
		s.question("fit "+lot+" vase", "/fit/"+lot+"/vase")
		s.mass(lot)
	}
}

// surface is what a person sees of a shop at one moment.
type surface struct {
	*testing.T
	folder string
	now    time.Time
	pages  http.Handler
}

// answered is an answer as programs read it.
type answered struct {
	Answer string `json:"answer"`
	Steps  []struct {
		Say string `json:"say"`
	} `json:"steps"`
	Figures []struct {
		Key   string  `json:"key"`
		Value float64 `json:"value"`
	} `json:"figures"`
}

// run is a command at the surface's moment.
func (s surface) run(command string, told func(answer.Document)) (string, int) {
	var out, errs strings.Builder
	env := Env{In: strings.NewReader(""), Out: &out, Err: &errs, Now: func() time.Time { return s.now }, Build: "(test)", told: told,
		Getenv: func(name string) string {
			return map[string]string{shopVariable: filepath.Join(s.folder, "lantern.hopperful"), "HOME": s.folder}[name]
		}}
	code := Main(context.Background(), split(command), env)
	return out.String() + errs.String(), code
}

// page is an address, waited for where it has to be reckoned.
func (s surface) page(address, accept string) (string, int) {
	s.Helper()
	for last := time.Now().Add(2 * time.Minute); ; time.Sleep(100 * time.Millisecond) {
		r := httptest.NewRequest(http.MethodGet, (&url.URL{Path: address}).String(), nil)
		r.Host = "localhost"
		r.Header.Set("Accept", accept)
		w := httptest.NewRecorder()
		s.pages.ServeHTTP(w, r)
		if w.Header().Get("Refresh") == "" || time.Now().After(last) {
			return w.Body.String(), w.Code
		}
	}
}

// question asks the same of a command and of a page.
func (s surface) question(command, address string) {
	s.Helper()
	var d *answer.Document
	asJSON, code := s.run(command+" --json", func(told answer.Document) { d = &told })
	paper, status := s.page(address, "text/html")
	if d == nil || code != exitDone {
		if status < 400 {
			s.Errorf("%s is refused (%s) and %s answered", command, asJSON, address)
		}
		return
	}
	if status >= 400 {
		s.Errorf("%s is answered and %s refused with %d", command, address, status)
		return
	}
	var own, other answered
	if err := json.Unmarshal([]byte(asJSON), &own); err != nil {
		s.Fatal(err)
	}
	if address == "/" { // programs ask the API what is next
		other = own
	} else if served, status := s.page(address, "application/json"); status != http.StatusOK {
		s.Errorf("%s as JSON is refused: %d", address, status)
	} else if err := json.Unmarshal([]byte(served), &other); err != nil {
		s.Errorf("%s as JSON: %v", address, err)
	}
	if got, want := fmt.Sprintf("%+v", other), fmt.Sprintf("%+v", own); got != want {
		s.Errorf("%s and %s differ as JSON:\n%s\n%s", address, command, got, want)
	}
	text, _ := s.run(command+" --full", nil)
	said := say.For("en").Document(*d)
	for name, seen := range map[string]string{"the terminal": text, "the page": visible(paper)} {
		seen = squeezed(seen)
		has := func(what, part string) {
			if part = squeezed(part); !strings.Contains(seen, part) {
				s.Errorf("%s: %s shows no %s %q", command, name, what, part)
			}
		}
		for _, number := range amounts.FindAllString(said.Answer, -1) {
			has("answer", number)
		}
		for _, step := range said.Steps {
			for _, number := range amounts.FindAllString(step.Say, -1) {
				has("step", number)
			}
		}
		for _, f := range said.Figures {
			has(f.Key, f.Shown())
			has(f.Key, f.ShownRange())
		}
	}
}

// mass asks how much of a lot there is.
func (s surface) mass(lot string) {
	s.Helper()
	text, _ := s.run("stock "+lot, nil)
	first, _, _ := strings.Cut(text, "\n")
	shown := amounts.FindAllString(first, -1)
	paper, _ := s.page("/stock/"+lot, "text/html")
	if len(shown) == 0 || !strings.Contains(squeezed(visible(paper)), squeezed(shown[len(shown)-1])) {
		s.Errorf("%s: the command line says %q, its page does not", lot, first)
	}
}

// amounts are numbers with a unit.
var amounts = regexp.MustCompile(`[0-9][0-9.,–]*[  ](?:kg|mg|g|°C|mm|min|h|s|%|W|kW|ml|L)\b`)

var (
	unseen = regexp.MustCompile(`(?s)<(script|style)\b.*?</(script|style)>`)
	tag    = regexp.MustCompile(`<[^>]*>`)
	blanks = regexp.MustCompile(`[\s\x{a0}\x{202f}\x{2009}]+`)
)

// visible is the text of a page.
func visible(page string) string {
	return html.UnescapeString(tag.ReplaceAllString(unseen.ReplaceAllString(page, " "), " "))
}

// squeezed is a text without blanks, which break anywhere.
func squeezed(text string) string { return blanks.ReplaceAllString(text, "") }
