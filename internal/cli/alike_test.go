package cli

import (
	"maps"
	"net/http"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hopperful/internal/store"
	"hopperful/internal/web"
	"hopperful/plan/reckon"
)

// alike is an answer that a command and a page give. Flag and field are the same where their
// words are, units aside; names are the others. What one of the two edges alone asks has its
// reason.
type alike struct {
	command, page string
	names         map[string]string // flag: field
	only          map[string]string // flag or field: why the other edge has none
}

// Why one edge asks what the other does not.
const (
	inTheAddress   = "it stands in the page's address"
	inTheArgument  = "it is an argument of the command"
	withTheFile    = "the page asks it where the file is sent, and the need keeps it"
	anotherPage    = "a page of its own, or a button on this one"
	needsAFile     = "a file of this computer"
	pageOnly       = "only a page is left open or clicked through"
	repeats        = "repeats a reckoning for checking it"
	machineChoices = "asked where there is more than one"
)

// everywhere are the flags of all commands, and of those that draw.
var everywhere = []string{"shop", "help", "json", "lang", "full", "why", "seed", "draws"}

// readsFile are the flags of commands that take a file; the page takes it at /plan.
var readsFile = map[string]string{"polymer": withTheFile, "colour": withTheFile, "filament-diameter": withTheFile, "e-is": withTheFile, "per-turn": withTheFile,
	"acceleration": withTheFile, "wall": withTheFile, "infill": withTheFile, "unit": withTheFile, "copies": withTheFile, "plate": withTheFile}

func and(a, b map[string]string) map[string]string {
	c := maps.Clone(a)
	maps.Copy(c, b)
	return c
}

var alikes = []alike{
	{"need", "/plan", map[string]string{"filament-diameter": "diameter", "e-is": "e", "save": "name"},
		map[string]string{"file": inTheArgument, "mass": inTheArgument, "done": anotherPage, "layers": anotherPage}},
	{"plan", "/plan/vase", map[string]string{"ready-by": "by"}, and(readsFile, map[string]string{})},
	{"fit", "/fit/R1/vase", map[string]string{}, and(readsFile, map[string]string{})},
	{"dry", "/dry/R1", map[string]string{"air": "flow", "box-humidity": "humidity"}, map[string]string{"polymer": "a page dries a lot; a plastic alone is reckoned at /reckon/drying"}},
	{"blend", "/blend/vase", map[string]string{"flow-from": "flow_low", "flow-to": "flow_high", "lot": "only", "why-not": "why"},
		and(readsFile, map[string]string{"tinted": "a field of colour is never empty", "save": anotherPage, "name": anotherPage, "by": anotherPage})},
	{"dose", "/dose", map[string]string{}, map[string]string{}},
	{"books", "/books", map[string]string{}, map[string]string{"lot": anotherPage, "campaign": anotherPage}},
	{"upkeep", "/machines/Howler/upkeep", map[string]string{}, map[string]string{"mill": inTheAddress, "lives": needsAFile}},
	{"labels", "/labels", map[string]string{"gone": "skip"}, map[string]string{"lots": inTheArgument, "out": needsAFile}},
	{"identify mixed", "/identify/mixed", map[string]string{"liquid": "in", "liquid-temperature": "temperature"}, map[string]string{"lot": pageOnly}},
	{"identify liquid", "/identify/liquid", map[string]string{}, map[string]string{"liquid": inTheArgument, "density": inTheArgument, "strength": inTheArgument, "back": pageOnly}},
	{"age", "/stock/R1", map[string]string{}, map[string]string{}},
	{"learn", "/machines/Howler/learn", map[string]string{}, map[string]string{"mill": inTheAddress}},
}

// What a command can be asked its page can, and the other way round.
func TestACommandAndItsPageAskAlike(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	begin(t, folder)
	for _, words := range []string{"need 240g --polymer PLA --save vase", "machines set mill --name Rumble --rated 1kW", "machines set person --name Ada",
		"machines set printer --name Puddle --nozzle 1.2mm", "machines set printer --name Torrent --nozzle 2mm"} {
		if _, errs, code := answerOf(folder, split(words)); code != exitDone {
			t.Fatalf("%s: %s", words, errs)
		}
	}
	st, err := store.Open(t.Context(), filepath.Join(folder, "lantern.hopperful"), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	now := time.Now()
	s := surface{t, folder, now, web.New(st, web.Options{Now: func() time.Time { return now }})}
	all := alikes
	for _, topic := range reckon.Topics() {
		all = append(all, alike{"reckon " + topic.Key, "/reckon/" + topic.Key, map[string]string{}, map[string]string{}})
	}
	root := rootCommand(&Env{Now: time.Now})
	for _, a := range all {
		s.alike(root, a)
	}
}

// field is the name of a field of a form.
var (
	formOf  = regexp.MustCompile(`(?s)<form[^>]*>.*?</form>`)
	fieldOf = regexp.MustCompile(`<(?:input|select|textarea)\b[^>]*? name="([^"]+)"`)
	unitEnd = regexp.MustCompile(`_(?:kg|k|m|m3|m3_s|s)$`)
)

// alike compares one command with its page.
func (s surface) alike(root *cobra.Command, a alike) {
	s.Helper()
	c, _, err := root.Find(strings.Fields(a.command))
	if err != nil {
		s.Fatal(err)
	}
	paper, status := s.page(a.page, "text/html")
	if status != http.StatusOK {
		s.Errorf("%s answers %d", a.page, status)
		return
	}
	fields := map[string]bool{}
	for _, form := range formOf.FindAllString(paper, -1) {
		if a.page == "/plan" || strings.Contains(form, `method="get"`) {
			for _, m := range fieldOf.FindAllStringSubmatch(form, -1) {
				fields[unitEnd.ReplaceAllString(m[1], "")] = true
			}
		}
	}
	used := map[string]bool{}
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if slices.Contains(everywhere, f.Name) {
			return
		}
		name := strings.ReplaceAll(f.Name, "-", "_")
		if other := a.names[f.Name]; other != "" {
			name = other
		}
		switch {
		case fields[name]:
			delete(fields, name)
		case a.only[f.Name] == "":
			s.Errorf("%s asks --%s, %s does not", a.command, f.Name, a.page)
		}
		used[f.Name] = true
	})
	for name := range fields {
		if a.only[name] == "" {
			s.Errorf("%s asks %q, %s does not", a.page, name, a.command)
		}
		used[name] = true
	}
	for name := range a.only {
		if !used[name] {
			s.Errorf("%s: %s has a reason and is asked by neither", a.command, name)
		}
	}
}
