package rules

import (
	"fmt"
	"go/ast"
	"regexp"
	"strings"
	"testing"
)

var numbered = regexp.MustCompile(`_[0-9]+$`)

// codeWords is how many words name a finding; longer ones are its sentence again.
const codeWords = 5

// ownWords are the rooms whose codes no program meets: they only word pages, forms and help.
var ownWords = []string{"form", "page", "field", "help"}

// codeViolations tells what is wrong with a code as an interface: programs match on it, so
// it says what was found, in few words, and not which of several like sentences it is.
func codeViolations(code string) (bad []string) {
	if numbered.MatchString(code) {
		bad = append(bad, fmt.Sprintf("%q is numbered: name what sets it apart", code))
	}
	room, name, _ := strings.Cut(code, ".")
	if len(strings.Split(name, "_")) > codeWords && !strings.HasPrefix(name, "do.") && !underAny(room, ownWords) {
		bad = append(bad, fmt.Sprintf("%q is a sentence: name what it means in %d words", code, codeWords))
	}
	return bad
}

// Codes stand in JSON beside the words, so they are named by what they mean.
func TestCodesAreNames(t *testing.T) {
	t.Parallel()
	all, seen := wordsOf(t), map[string]bool{}
	for _, f := range tree(t) {
		if f.test {
			continue
		}
		ast.Inspect(f.ast, func(n ast.Node) bool {
			if e, ok := n.(ast.Expr); ok {
				if code, ok := literal(e); ok && all[code] != nil && !seen[code] {
					seen[code] = true
					report(t, codeViolations(code))
				}
			}
			return true
		})
	}
	if len(seen) < 3000 {
		t.Errorf("only %d codes were found", len(seen))
	}
	for code := range all {
		if kind, _, _ := strings.Cut(code, "."); underAny(kind, ownWords) {
			report(t, codeViolations(code))
		}
	}
	for code, want := range map[string]string{"shop.no_lot": "", "shop.no_lot_2": "is numbered", "shop.there_is_no_lot_of_that_name": "is a sentence", "form.there_is_no_lot_of_that_name": ""} {
		wantOne(t, codeViolations(code), want)
	}
}
