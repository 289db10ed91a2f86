package rules

import (
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var (
	// saidInScript is a text of a script that begins as a sentence does, or goes on behind
	// a figure in words.
	saidInScript = regexp.MustCompile("[\"`][A-Z][a-z]{2,}[^\"`]*[\"`]|`[^`]*\\}(?:\\\\u00a0)? ?[a-z]+ [a-z]{2,}[^`]*`")
	// meantForMachines begins as a sentence does and is none: headers, keys, objects.
	meantForMachines = regexp.MustCompile("^[\"`](?:Accept|Enter|EventSource|Content-[A-Za-z]+)[\"`]$")
)

// scriptViolations names the texts of a script that should stand in the catalogue, in every
// language.
func scriptViolations(name, text string) (bad []string) {
	for i, line := range strings.Split(text, "\n") {
		if code, _, _ := strings.Cut(line, " // "); !strings.HasPrefix(strings.TrimSpace(line), "//") {
			for _, said := range saidInScript.FindAllString(code, -1) {
				if !meantForMachines.MatchString(said) {
					bad = append(bad, fmt.Sprintf("%s:%d: %s is said in one language only; word it in internal/say/words/script.*.json", name, i+1, said))
				}
			}
		}
	}
	return bad
}

// What a page's script says stands in the catalogue like everything else.
func TestScriptsSpeakByTheCatalogue(t *testing.T) {
	t.Parallel()
	seen := 0
	err := walk(func(name string) error {
		if path.Ext(name) != ".js" || path.Base(path.Dir(name)) != "assets" {
			return nil
		}
		seen++
		text, err := os.ReadFile(filepath.Join(root, name))
		report(t, scriptViolations(name, string(text)))
		return err
	})
	if err != nil || seen < 10 {
		t.Fatal(seen, err)
	}
	for line, want := range map[string]string{
		`a.textContent = "Show it";`: "Show it", "b(`${n} places in it`);": "places in it", "label(`Code of ${n}`)": "Code of",
		`e.key === "Enter"`: "", `worded("stop")`: "", `// "Show it" is said elsewhere`: "",
	} {
		wantOne(t, scriptViolations("a.js", line), want)
	}
}
