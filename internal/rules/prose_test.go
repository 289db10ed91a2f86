package rules

import (
	"go/ast"
	"path"
	"slices"
	"strings"
	"testing"

	"hopperful/fact"
)

// proseWords is from how many words on a text is a sentence.
const proseWords = 4

// proseViolations finds sentences in the code of a floor that returns findings:
// texts of four words and more. The texts of errors for programmers, made by
// fmt.Errorf, errors.New and panic, and of logs are free, and so are the tags of fields.
func proseViolations(f goFile) (bad []string) {
	free := map[ast.Node]bool{}
	ast.Inspect(f.ast, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Field:
			if n.Tag != nil {
				free[n.Tag] = true
			}
		case *ast.KeyValueExpr: // commands as they are typed, and an example of each
			if key, ok := n.Key.(*ast.Ident); ok && (key.Name == "Use" || key.Name == "Example") {
				free[n.Value] = true
			}
		case *ast.CallExpr:
			if forProgrammers(n) {
				for _, a := range n.Args {
					ast.Inspect(a, func(x ast.Node) bool {
						if lit, ok := x.(*ast.BasicLit); ok {
							free[lit] = true
						}
						return true
					})
				}
			}
		case *ast.BasicLit:
			if text, ok := literal(n); ok && !free[n] && !isCommand(text) && !isVocabulary(text) && !isScaleWord(text) && len(strings.Fields(text)) >= proseWords && strings.Trim(text, formulaRunes) != "" && !isFormula(text) {
				bad = append(bad, f.at(n.Pos())+": a sentence: "+text)
			}
		}
		return true
	})
	return bad
}

// isCommand reports whether a text is a command as it is typed, or a statement for a
// database.
func isCommand(text string) bool {
	first, _, _ := strings.Cut(strings.TrimSpace(text), " ")
	if strings.HasSuffix(text, ".") { // it only begins like one
		return false
	}
	return first == "hopperful" || len(first) > 2 && first == strings.ToUpper(first) && strings.Trim(first, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
}

// isVocabulary reports whether a text is a list of words that are read, parted by
// strokes, such as what people call a column: no entry is longer than five words.
func isVocabulary(text string) bool {
	list := strings.Split(text, "|")
	return len(list) > 1 && !slices.ContainsFunc(list, func(word string) bool { return len(strings.Fields(word)) > proseWords+1 })
}

// isScaleWord reports whether a text is a value of a scale that records hold, which has its
// word in the catalogue: how a colour was taken, where mass went.
func isScaleWord(text string) bool {
	all, err := catalogue()
	return err == nil && slices.ContainsFunc(wordScales, func(scale string) bool { return all[fact.TermCode(scale, text)] != nil })
}

// wordedEdges are the folders at the edge that hold no sentence either.
var wordedEdges = []string{"internal/cli", "internal/store", "internal/account", "internal/live", "internal/trust", "internal/exchange"}

const formulaRunes = " +-−·×÷/=()^,.;:<>≤≥0123456789ΣΔ∑√∫"

// isFormula reports whether a text is a formula: signs between its words.
func isFormula(text string) bool {
	run := 0
	for _, w := range strings.Fields(text) {
		if strings.Trim(w, formulaRunes) == "" || strings.ContainsAny(w, "·×÷=^") {
			run = 0
			continue
		}
		if run++; run >= proseWords {
			return false
		}
	}
	return true
}

func forProgrammers(call *ast.CallExpr) bool {
	switch fun := call.Fun.(type) {
	case *ast.Ident:
		return fun.Name == "panic"
	case *ast.SelectorExpr:
		if slices.Contains([]string{"Info", "Warn", "Error"}, fun.Sel.Name) { // of a log
			return true
		}
		id, ok := fun.X.(*ast.Ident)
		return fun.Sel.Name == "Cite" || ok && (id.Name == "fmt" && fun.Sel.Name == "Errorf" || id.Name == "errors" && fun.Sel.Name == "New")
	}
	return false
}

// proseFloors are the folders where no text is a sentence: what an answer is made of. The
// models below only refuse, with errors that the edges word.
var proseFloors = append(wordedEdges, "shop", "answer", "fact", "plan", "estimate", "polymer")

func TestFindingsAreNoSentences(t *testing.T) {
	t.Parallel()
	for _, f := range tree(t) {
		if !f.test && !strings.HasSuffix(f.dir, "test") && underAny(f.dir, proseFloors) {
			report(t, proseViolations(f))
		}
	}
}

// cutters compare or cut text.
var cutters = []string{"HasPrefix", "HasSuffix", "TrimPrefix", "TrimSuffix", "CutPrefix", "CutSuffix", "Cut", "Contains", "SplitN", "EqualFold"}

// cutViolations finds texts of other packages that are matched or cut: a call of
// package strings with a literal of two words or with the end of a sentence.
func cutViolations(f goFile) (bad []string) {
	ast.Inspect(f.ast, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return true
		}
		sel, ok := call.Fun.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		id, ok := sel.X.(*ast.Ident)
		if !ok || id.Name != "strings" || !slices.Contains(cutters, sel.Sel.Name) {
			return true
		}
		for _, a := range call.Args {
			if text, ok := literal(a); ok && (text == ". " || text == "? " || len(strings.Fields(text)) >= 2) {
				bad = append(bad, f.at(call.Pos())+": cuts or matches a sentence at "+text)
			}
		}
		return true
	})
	return bad
}

// The edges lay answers out by their codes, never by matching their words, and no floor
// matches what another said. The store reads the texts of its drivers, which have no codes.
func TestNobodyCutsSentences(t *testing.T) {
	t.Parallel()
	for _, f := range tree(t) {
		if !f.test && f.dir != "internal/store" && underAny(f.dir, append(proseFloors, "internal/web", "internal/say")) {
			report(t, cutViolations(f))
		}
	}
}

func TestProseRulesCanFail(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ body, want string }{
		{`var a = "the mill is full"`, "a sentence"},
		{`var a = "not known yet"`, ""},
		{`var a = "extruded in a test"`, ""}, // a loss
		{`var a = "extruded in a room"`, "a sentence"},
		{`var a = fmt.Errorf("the mill is full: %w", nil)`, ""},
		{`var a = "hopperful plan 200g --polymer PLA"`, ""},
		{`var a = "hopperful plan says how to grind."`, "a sentence"},
		{`var a = T{Example: "  the mill is full"}`, ""},
		{`var a = T{Say: "the mill is full"}`, "a sentence"},
		{`var a = "(seen − slips) ÷ (1 − slips)"`, ""},
		{`var a = "left|left in the mill|in der Mühle"`, ""},
		{`var a = "either|or the mill is full of grains"`, "a sentence"},
		{"type a struct { B int `json:\"b\" text:\"one two three four\"` }", ""},
	} {
		wantOne(t, proseViolations(sample(t, "plan/a.go", "package a\n\n"+c.body+"\n")), c.want)
	}
	for _, c := range []struct{ body, want string }{
		{`var a, _, _ = strings.Cut(x, ". ")`, "cuts or matches"},
		{`var a = strings.HasPrefix(x, "the mill")`, "cuts or matches"},
		{`var a = strings.HasPrefix(x, ">")`, ""},
	} {
		wantOne(t, cutViolations(sample(t, path.Join("internal/web", "a.go"), "package a\n\n"+c.body+"\n")), c.want)
	}
}
