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

// asked are the rooms of questions, whose codes say which question they word and in which place of
// it: who looks for the help beside a mass finds it however it is worded today.
var asked = []string{"form", "field"}

// codeViolations tells what is wrong with a code as an interface: programs match on it, so
// it says what was found, in few words, and not which of several like sentences it is.
func codeViolations(code string) (bad []string) {
	if numbered.MatchString(code) {
		bad = append(bad, fmt.Sprintf("%q is numbered: name what sets it apart", code))
	}
	room, name, _ := strings.Cut(code, ".")
	if len(strings.Split(name, "_")) > codeWords && !strings.HasPrefix(name, "do.") && (!underAny(room, ownWords) || underAny(room, asked)) {
		bad = append(bad, fmt.Sprintf("%q is a sentence: name what it means in %d words", code, codeWords))
	}
	return bad
}

var (
	given   = regexp.MustCompile(`\{\{[^}]*\}\}|['’]`)
	apart   = regexp.MustCompile(`[^a-z0-9]+`)
	begins  = 4 // words of a sentence that are no name of it, where it goes on
	opening = func(line string) string {
		return strings.Trim(apart.ReplaceAllString(given.ReplaceAllString(strings.ToLower(line), ""), "_"), "_")
	}
)

// cutOff tells of a question's code that is where its English line was cut off.
func cutOff(code string, english []string) (bad []string) {
	room, name, _ := strings.Cut(code, ".")
	for _, line := range english {
		if underAny(room, asked) && strings.Count(name, "_")+1 >= begins && strings.HasPrefix(opening(line), name+"_") {
			bad = append(bad, fmt.Sprintf("%q is the beginning of %q: name which question it words", code, line))
		}
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
	for code, in := range all {
		report(t, cutOff(code, in["en"]))
		if kind, _, _ := strings.Cut(code, "."); underAny(kind, ownWords) {
			report(t, codeViolations(code))
		}
	}
	for code, want := range map[string]string{"shop.no_lot": "", "shop.no_lot_2": "is numbered", "shop.there_is_no_lot_of_that_name": "is a sentence", "page.there_is_no_lot_of_that_name": "", "form.there_is_no_lot_of_that_name": "is a sentence"} {
		wantOne(t, codeViolations(code), want)
	}
	wantOne(t, cutOff("form.let_it_run_over", []string{"Let it run over the magnet."}), "is the beginning of")
	wantOne(t, cutOff("form.magnet_intro", []string{"Let it run over the magnet."}), "")
	wantOne(t, cutOff("form.let_it_run_over", []string{"Let it run over."}), "")
}
