package web

import (
	_ "embed"
	"testing"
)

// axe is the accessibility checker axe-core 4.14.1 (MPL-2.0), used by these
// tests only; see testdata/axe.
//
//go:embed testdata/axe/axe.min.js
var axe string

// axeLight runs the rules of WCAG 2.2 A and AA, good practice and enhanced
// contrast; axeDark only those of contrast, since nothing else differs.
const (
	axeLight = `axe.run(document, {resultTypes: ["violations"], runOnly: {type: "tag", values: ["wcag2a","wcag2aa","wcag21a","wcag21aa","wcag22aa","best-practice"]}, rules: {"color-contrast-enhanced": {enabled: true}}})` + axeList
	axeDark  = `axe.run(document, {resultTypes: ["violations"], runOnly: {type: "rule", values: ["color-contrast","color-contrast-enhanced"]}})` + axeList
	axeList  = `
	.then(r => r.violations.flatMap(v => v.nodes.map(n => v.id + ": " + n.target.join(" ") + " " + (n.any[0] ? n.any[0].message : ""))))`
)

// TestPagesAreAccessible holds every kind of page against axe-core, light and
// dark, phone and desk. Of things that open, the first of each group is opened:
// the others are drawn by the same part.
func TestPagesAreAccessible(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	browser := oneBrowser(t)
	b := plannedShop(t, Options{})
	w := open(t, browser, b)
	paths := []string{"/start/mill", "/start/need", "/records/20", "/nowhere", "/record/sort?lot=S1", "/record/material?polymer=PLA&property=density", "/stock?empty=1",
		"/record/dry?lot=R1", "/record/flow?lot=R1", "/record/service?mill=Rattle", "/record/event", "/record/sieve?lot=R1", "/record/colour?lot=R1"}
	for _, p := range shown {
		paths = append(paths, p.path)
	}
	for i, path := range paths {
		width := []int64{390, 1280}[i%2]
		// A tall window, so that the bar that stays at the thumb covers nothing.
		w.look(width, 16000, false)
		w.at(path)
		w.accessible(path, width)
	}
}

// TestNothingRunsOffAPhone looks for pages wider than a narrow phone, and for
// touch targets smaller than a gloved finger wants.
func TestNothingRunsOffAPhone(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	browser := oneBrowser(t)
	b := plannedShop(t, Options{})
	w := open(t, browser, b)
	const width = 320
	w.look(width, 844, false)
	more := []struct{ name, path string }{{"", "/record/sieve?lot=R1"}, {"", "/record/service"}, {"", "/record/colour?lot=R1"}, {"", "/stock/R5"}, {"", "/fit/R1/door%20wedge"}, {"", "/fit"}, {"", "/dry/R1"}, {"", "/machines/Rattle/learn"}, {"", "/reckon"}, {"", "/stock/R1/family"}, {"", "/stock/S3"},
		{"", "/identify/S7?chlorine=no&solid=yes&found=limp70%3Dno"}, {"", "/identify/S7?chlorine=yes"}, {"", "/identify/liquid?liquid=brine&density=1.08"}, {"", "/identify/mixed?host=PLA&stray=PETG&pieces=60&wrong=3"}}
	for _, p := range append(more, shown...) {
		w.at(p.path)
		if wide := ask[int64](w, `document.documentElement.scrollWidth`); wide > width {
			t.Errorf("%s is %d px wide on a phone of %d px", p.path, wide, width)
		}
		for _, small := range ask[[]string](w, smallTargets) {
			t.Errorf("%s: %s", p.path, small)
		}
	}
}

// smallTargets lists buttons and fields less than 48 px high. Links inside a
// sentence are as high as its line.
const smallTargets = `[...document.querySelectorAll("button, a.button, select, input:not([type=hidden]):not([type=radio]):not([type=checkbox]), summary, nav a")]
	.filter(e => e.getClientRects().length && e.getBoundingClientRect().height < 47.5)
	.map(e => e.tagName + " " + (e.textContent.trim().slice(0, 30) || e.name) + " is " + e.getBoundingClientRect().height + " px high")`
