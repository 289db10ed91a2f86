package web

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"hopperful/quantity"
	"hopperful/shop"
)

// fromElsewhere are the signs of formulas and arrows that our letters lack: whatever the
// machine has for them is good enough, as they stand apart from words.
const fromElsewhere = "ΔΣΦαεθλπρστχⁿ⁺‰←→↑↓√∫≤≥⌈⌉"

// TestOurLettersHaveEverySign: what stands in both catalogues, in the units and on the pages
// is drawn with our own letters, but for the signs named. A sign is ours where two fall-backs
// of different widths make it equally wide.
func TestOurLettersHaveEverySign(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	signs := map[rune]bool{}
	files, err := filepath.Glob("../say/words/*.json")
	if err != nil || len(files) == 0 {
		t.Fatal("no catalogue", err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		gather(signs, string(text))
	}
	for _, k := range quantity.Kinds() {
		gather(signs, strings.Join(k.Units(), ""))
	}
	w := open(t, oneBrowser(t), shopToLookAt(t))
	w.walk([]int64{390}, []string{"/", "/stock/R1", "/plan/vase", "/fit/R1/door%20wedge", "/reckon/sieve", "/materials/PETG", "/books"}, func(int64, string) {
		gather(signs, ask[string](w, `document.body.innerText`))
	})
	all := ""
	for r := range signs {
		all += string(r)
	}
	lacking := ask[string](w, `Promise.all(["400", "700"].map((bold) => document.fonts.load(bold + " 40px 'Hopperful Text'", "aµĀ"))).then(() => {
		const pen = document.createElement("canvas").getContext("2d");
		const wide = (c, other) => { pen.font = "40px 'Hopperful Text', " + other; return pen.measureText(c).width; };
		return [..."`+all+`"].filter((c) => Math.abs(wide(c, "monospace") - wide(c, "serif")) > 0.1).join("");
	})`)
	for _, r := range lacking {
		if !strings.ContainsRune(fromElsewhere, r) {
			t.Errorf("%q (%U) is not among our letters", r, r)
		}
	}
	if !signs['µ'] || !strings.ContainsRune(lacking, 'ρ') {
		t.Errorf("nothing was looked at: %q lack of %q", lacking, all)
	}
}

// gather adds the signs of a text that are no plain letters.
func gather(signs map[rune]bool, text string) {
	for _, r := range text {
		if r > '~' && r != '\u00ad' && r != '\u00a0' && r != '\u202f' && r != '\u2028' {
			signs[r] = true
		}
	}
}

// hyphenMinus is a number below zero, or a power of ten, with a hyphen.
var hyphenMinus = regexp.MustCompile(`(^|[\s(])-\d|\de-\d`)

// TestPagesShowAMinus: no page has a hyphen before a number, works cited apart, and a field
// that is read back has no minus.
func TestPagesShowAMinus(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), shopToLookAt(t))
	minus := 0
	w.walk([]int64{390}, []string{"/dry/R1", "/stock/S1", "/materials/PETG", "/reckon/drying", "/reckon/open"}, func(_ int64, path string) {
		text := ask[string](w, `([...document.querySelectorAll("main details")].forEach((d) => { d.open = true; }),
			document.querySelectorAll("cite").forEach((e) => e.remove()), document.querySelector("main").innerText)`)
		for _, line := range strings.Split(text, "\n") {
			if hyphenMinus.MatchString(line) {
				t.Errorf("%s: %s", path, line)
			}
		}
		minus += strings.Count(text, "−")
		if values := ask[[]string](w, `[...document.querySelectorAll("input")].map((e) => e.value)`); slices.ContainsFunc(values, func(v string) bool { return strings.Contains(v, "−") }) {
			t.Errorf("%s: a field holds a minus: %q", path, values)
		}
	})
	if minus < 5 {
		t.Errorf("only %d numbers below zero were looked at", minus)
	}
}

// TestNumbersOpenTheKeypadOfNumbers: a field for a number opens digits and the decimal sign
// on a phone, but where it may be below zero, which such a keypad may not type.
func TestNumbersOpenTheKeypadOfNumbers(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	fields := 0
	for _, path := range []string{"/books", "/plan", "/blend/door%20wedge", "/dry/R1", "/dose", "/record/charge", "/record/mill", "/record/take-in", "/record/dryer", "/record/colour", "/reckon/drying", "/reckon/heat"} {
		for _, field := range amountField.FindAllStringSubmatch(b.get(path).Body.String(), -1) {
			fields++
			below := strings.Contains(field[1], "dew_point") || strings.HasPrefix(field[1], "lab.") || strings.Contains(field[0], `data-low="-`)
			if want := map[bool]string{true: "text", false: "decimal"}[below]; field[2] != want && field[2] != "numeric" {
				t.Errorf("%s: %s opens %q, want %q", path, field[1], field[2], want)
			}
		}
	}
	if fields < 60 {
		t.Errorf("only %d fields were looked at", fields)
	}
}

// amountField is a field for a number: its name, its keypad and all of it.
var amountField = regexp.MustCompile(`<input class="amount"[^>]* name="([^"]+)"[^>]* inputmode="([a-z]+)"[^>]*>`)

// TestAnEmptyShopSaysWhatToDoFirst: a sheet that lets choose among nothing leads to where
// the first of it is written down, and a shop with scrap alone to its first charge.
func TestAnEmptyShopSaysWhatToDoFirst(t *testing.T) {
	t.Parallel()
	empty, scrap := shopOf(t, &shop.ShopSet{Language: "en"}), shopOf(t, &shop.TakenIn{Lot: "S1", Class: shop.Scrap, Polymer: "PLA", Mass: 1})
	first := func(b *bench, path string) string {
		_, after, _ := strings.Cut(b.get(path).Body.String(), `class="before stack"`)
		part, _, _ := strings.Cut(after, "</section>")
		return part
	}
	for path, want := range map[string][2]string{
		"/record/charge": {"/record/take-in", "/record/mill"}, "/record/dry": {"/record/take-in", "/record/charge"}, "/record/print": {"/record/take-in", "/record/charge"},
		"/record/sieve": {"/record/take-in", ""}, "/record/magnet": {"/record/take-in", "/record/charge"}, "/record/sort": {"/record/take-in", ""}, "/record/service": {"/record/mill", "/record/mill"},
	} {
		for i, b := range []*bench{empty, scrap} {
			if got := first(b, path); want[i] == "" && got != "" || !strings.Contains(got, want[i]) {
				t.Errorf("%s leads to %q, want %s", path, got, want[i])
			}
		}
	}
	if page := empty.get("/dose").Body.String(); !strings.Contains(page, `class="button main-act" href="/record/mill`) {
		t.Error("the page of noise does not say to describe the mill")
	}
}
