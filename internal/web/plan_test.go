package web

import (
	"context"
	"regexp"
	"slices"
	"strings"
	"testing"

	"hopperful/shop"
)

var headings = regexp.MustCompile(`(?s)<h[123][^>]*>(.*?)</h[123]>`)

// headingsOf are the words of a page's headings, in order.
func headingsOf(body string) []string {
	var words []string
	for _, m := range headings.FindAllStringSubmatch(body, -1) {
		words = append(words, strings.TrimSpace(regexp.MustCompile(`(?s)<[^>]*>`).ReplaceAllString(m[1], "")))
	}
	return words
}

// inOrder reports the first of the wanted words that does not follow the one before.
func inOrder(t *testing.T, words []string, wanted ...string) {
	t.Helper()
	at := -1
	for _, w := range wanted {
		i := slices.Index(words, w)
		if i <= at {
			t.Errorf("%q stands at %d, after %d was wanted; the page has %q", w, i, at, words)
			return
		}
		at = i
	}
}

func TestAPlanAnswersThenSaysWhatToDo(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	body := b.get("/plan/four%20planter%20feet").Body.String()
	inOrder(t, headingsOf(body), "What to do", "Grind this", "What could spoil it", "Take care", "How warm it gets", "In numbers",
		"Then, before it prints", "Limits", "More figures", "What the print takes", "How much has come out")
	if strings.Contains(body, `<span class="fig-origin">reckoned</span>`) {
		t.Error("the word reckoned stands beside a number")
	}
	if !strings.Contains(body, `<dd>reckoned</dd>`) {
		t.Error("the reasons of a number do not say that it is reckoned")
	}
}

func TestWhatAMillLacksComesFirst(t *testing.T) {
	t.Parallel()
	b := plannedShop(t, Options{})
	m, ok := b.store.State().Mill("Rattle")
	if !ok {
		t.Fatal("the invented shop has lost its mill")
	}
	m.Mill.Earth, m.Mill.LidSwitch = shop.No, shop.No
	if _, err := b.store.Append(context.Background(), noon, shop.Record{Body: &shop.MillSet{Mill: m.Mill}}); err != nil {
		t.Fatal(err)
	}
	body := b.get("/plan/four%20planter%20feet").Body.String()
	inOrder(t, headingsOf(body), "Take care", "What to do", "How warm it gets")
	if !strings.Contains(body, "Rattle lacks a protective earth and a lid switch.") {
		t.Error("the page does not say what the mill lacks")
	}
	if strings.Count(body, "Take care") != 1 {
		t.Error("the cautions stand twice")
	}
}

// mostOfAPlan bounds a plan's page, before it is packed: over a poor radio link in a
// workshop a phone takes a second for so much. Judgement.
const mostOfAPlan = 120_000

func TestAPlanIsALightPage(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	b := shopToLookAt(t)
	for _, lang := range []string{"en", "de"} {
		body := b.in(lang, "/plan/four%20planter%20feet")
		if len(body) > mostOfAPlan {
			t.Errorf("the plan in %s is %d bytes, more than %d", lang, len(body), mostOfAPlan)
		}
		if !strings.Contains(body, `class="steps"`) {
			t.Errorf("the page in %s is no plan", lang)
		}
	}
}
