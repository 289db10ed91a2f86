package rules

import (
	"os"
	"regexp"
	"testing"
)

// TestTheTestsThatPagesNameAreThere: what the pages on safety of the records and of
// the door claim is held by tests that exist.
func TestTheTestsThatPagesNameAreThere(t *testing.T) {
	t.Parallel()
	there := map[string]bool{}
	declared := regexp.MustCompile(`(?m)^func ((?:Test|Fuzz)\w+)\(`)
	for _, f := range tree(t) {
		if !f.test {
			continue
		}
		text, err := os.ReadFile("../../" + f.path)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range declared.FindAllStringSubmatch(string(text), -1) {
			there[m[1]] = true
		}
	}
	named := regexp.MustCompile("`((?:Test|Fuzz)\\w+)`")
	for _, page := range []string{"security.md", "reliability.md", "decisions/0009-one-answer.md"} {
		text, err := os.ReadFile("../../docs/" + page)
		if err != nil {
			t.Fatal(err)
		}
		found := named.FindAllStringSubmatch(string(text), -1)
		if len(found) == 0 {
			t.Errorf("docs/%s names no test", page)
		}
		for _, m := range found {
			if !there[m[1]] {
				t.Errorf("docs/%s names %s, which is not there", page, m[1])
			}
		}
	}
}
