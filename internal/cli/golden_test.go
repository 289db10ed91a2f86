package cli

import (
	"flag"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"hopperful/internal/say"
	"hopperful/plan/reckon"
)

var update = flag.Bool("update", false, "write the golden answers anew")

// goldens are answers whose whole wording is kept, by the name of their file.
var goldens = map[string]string{
	"need":       "need wedge.stl vase.gcode --polymer PLA --full",
	"need_saved": "need",
	"identify":   "identify --limp70 yes --snaps yes --lot S7 --full",
	"liquid":     "identify liquid calcium-chloride 30%",
	"mixed":      "identify mixed --host PLA --stray PETG --pieces 60 --wrong 3",
	"sieve":      "sieve R1 --full",
	"age":        "age R1",
	"colour":     "colour P12",
	"trace":      "trace R1",
	"learn":      "learn --full",
	"plan":       "plan 20g --polymer PLA --colour black --draws 40 --full",
	"plan_one":   "plan 240g --polymer PETG --colour clear --mill Newcomer --draws 40 --full",
	"plan_none":  "plan 100g --polymer PC --draws 40",
	"blend":      "blend 150g --polymer PLA --order cheapest --mean-age 0.5 --step 5g --full",
	"blend_none": "blend 100g --polymer PLA --moisture 10ppm",
	"stop":       "identify --chlorine yes --lot S7",
	"fit":        "fit R1 120g --draws 40",
	"fit_file":   "fit R3 vase.gcode --draws 40 --full",
	"dry":        "dry R1 --draws 40 --full",
	"dry_oven":   "dry R1 --way oven --draws 40",
	"dry_pvc":    "dry --polymer PVC",
	"material":   "materials PLA --full",
	"materials":  "materials",
}

// anyNumber stands for the numbers, which the models' own tests hold.
var anyNumber = regexp.MustCompile(`[0-9]+([.,:][0-9]+)*`)

// anyMonth stands for the months after them: what is told of now moves with the calendar.
var anyMonth = regexp.MustCompile(`\b0 (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\b`)

// rawCode is a code of the catalogue that nobody worded.
var rawCode = regexp.MustCompile(`\b[a-z_]+[a-z]\.[a-z_-]+[a-z]\b`)

// Every room answers in the words that were read and approved, in every language.
// Numbers may move; what is said of them may not without somebody looking.
func TestAnswersReadAsApproved(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	if err := settle(folder); err != nil {
		t.Fatal(err)
	}
	if _, errs, code := answerWith(folder, nil, split("machines set mill --name Newcomer --rated 1kW --chamber 1l --hole 3mm --controller-levels 12")); code != exitDone {
		t.Fatal(errs)
	}
	all := maps.Clone(goldens)
	for _, topic := range reckon.Topics() {
		all["reckon_"+topic.Key] = "reckon " + topic.Key + " --full"
	}
	for name, command := range all {
		command, full := strings.CutSuffix(command, " --full")
		h, out, errs, code := hear(folder, command, asked{"en", 0, full})
		for _, lang := range []string{"en", "de"} {
			if lang != "en" {
				out, errs, code = h.read(asked{lang, 0, full})
			}
			if code != exitDone {
				t.Errorf("%s: %s", command, errs)
				continue
			}
			lines := strings.Split(anyMonth.ReplaceAllString(anyNumber.ReplaceAllString(out, "0"), "0 Month"), "\n")
			for i, l := range lines {
				lines[i] = strings.Join(strings.Fields(l), " ") // columns move with the numbers
			}
			for _, raw := range rawCode.FindAllString(strings.ReplaceAll(out, ".md", ""), -1) {
				if kind, _, _ := strings.Cut(raw, "."); len(say.For().Codes(kind+".")) > 0 {
					t.Errorf("%s in %s shows the code %q", command, lang, raw)
				}
			}
			got, file := strings.Join(lines, "\n"), filepath.Join("testdata", "golden", name+"."+lang+".txt")
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				continue
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("%s in %s now reads\n%s\nRead it; go test ./internal/cli -run ReadAsApproved -update keeps it.", command, lang, got)
			}
		}
	}
}
