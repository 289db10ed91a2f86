package web

import (
	_ "embed"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// axe is the accessibility checker axe-core 4.14.1 (MPL-2.0), used by these
// tests only; see testdata/axe.
//
//go:embed testdata/axe/axe.min.js
var axe string

// axeLight runs the rules of WCAG 2.2 A and AA, good practice and enhanced
// contrast; axeDark only contrast, since nothing else differs. Contrast is most of
// the work, and axe leaves to the plain rule what fails it too: axeSet lets the
// enhanced one, 7 to 1, name those as well, so that the plain one need not run.
const (
	axeSet   = `axe.configure({checks: [{id: "color-contrast-enhanced", options: {...axe._audit.checks["color-contrast-enhanced"].options, contrastRatio: {normal: {expected: 7}, large: {expected: 4.5}}}}]})`
	axeLight = `axe.run(document, {resultTypes: ["violations"], runOnly: {type: "tag", values: ["wcag2a","wcag2aa","wcag21a","wcag21aa","wcag22aa","best-practice"]}, rules: {"color-contrast": {enabled: false}, "color-contrast-enhanced": {enabled: true}}})` + axeList
	axeDark  = `axe.run(document, {resultTypes: ["violations"], runOnly: {type: "rule", values: ["color-contrast-enhanced"]}})` + axeList
	axeList  = `
	.then(r => r.violations.flatMap(v => v.nodes.map(n => v.id + ": " + n.target.join(" ") + " " + (n.any[0] ? n.any[0].message : ""))))`
)

// TestTheAccessibilityCheckerFindsFaults holds the checker itself: it must name
// text too pale for AA, text too pale for AAA, a picture and a field without words
// and an empty header, and none of the sound things beside them.
func TestTheAccessibilityCheckerFindsFaults(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), demoShop(t, Options{}))
	w.look(1280, 900, false)
	w.at("/records")
	w.do("make faults", chromedp.Evaluate[chromedp.Void](`(() => {
		const add = (tag, id, more) => { const e = document.createElement(tag); e.id = id; Object.assign(e, more); document.querySelector("main").append(e); return e; };
		const say = (id, colour) => { const p = add("p", id, {textContent: "so pale"}); p.style.color = colour; p.style.background = "#ffffff"; };
		say("t-aa", "#999999"); say("t-aaa", "#707070"); say("t-sound", "#555555"); // 2.8, 5.0 and 7.5 to 1
		add("img", "t-img"); add("input", "t-input");
		add("table", "t-table", {innerHTML: "<tr><th id='t-th' scope='col'></th></tr><tr><td>1</td></tr>"}); })()`), chromedp.Evaluate[chromedp.Void](axe+";"+axeSet))
	found := strings.Join(askWithin[[]string](w, axeLimit, axeLight), "\n")
	dark := strings.Join(askWithin[[]string](w, axeLimit, axeDark), "\n")
	for _, want := range []string{"color-contrast-enhanced: #t-aa ", "color-contrast-enhanced: #t-aaa ", "image-alt: #t-img ", "label: #t-input ", "empty-table-header: #t-th "} {
		if !strings.Contains(found, want) {
			t.Errorf("it does not name %s; it says:\n%s", want, found)
		}
		if strings.HasPrefix(want, "color") && !strings.Contains(dark, want) {
			t.Errorf("the look at contrast alone does not name %s; it says:\n%s", want, dark)
		}
	}
	if strings.Contains(found, "#t-sound ") {
		t.Errorf("it faults sound text:\n%s", found)
	}
}

// TestPagesAreAccessible holds every kind of page against axe-core, light and
// dark, phone and desk. Of things that open, the first of each group is opened:
// the others are drawn by the same part.
func TestPagesAreAccessible(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	browser := oneBrowser(t)
	w := open(t, browser, shopToLookAt(t))
	paths := []string{"/start/mill", "/start/need", "/records/20", "/nowhere", "/record/sort?lot=S1", "/record/material?polymer=PLA&property=density", "/stock?empty=1",
		"/record/dry?lot=R1", "/record/flow?lot=R1", "/record/service?mill=Rattle", "/record/event", "/record/sieve?lot=R1", "/record/colour?lot=R1"}
	for _, p := range shown {
		paths = append(paths, p.path)
	}
	for i, path := range paths {
		width := []int64{390, 1280}[i%2]
		w.look(width, 844, false)
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
	w := open(t, browser, shopToLookAt(t))
	const width = 320
	more := []struct{ name, path string }{{"", "/record/sieve?lot=R1"}, {"", "/record/service"}, {"", "/record/colour?lot=R1"}, {"", "/stock/R5"}, {"", "/fit/R1/door%20wedge"}, {"", "/fit"}, {"", "/dry/R1"}, {"", "/machines/Rattle/learn"}, {"", "/reckon"}, {"", "/stock/R1/family"}, {"", "/stock/S3"},
		{"", "/identify/S7?chlorine=no&solid=yes&found=limp70%3Dno"}, {"", "/identify/S7?chlorine=yes"}, {"", "/identify/liquid?liquid=brine&density=1.08"}, {"", "/identify/mixed?host=PLA&stray=PETG&pieces=60&wrong=3"}}
	for _, p := range append(more, shown...) {
		w.look(width, 844, false)
		w.at(p.path)
		if wide := ask[int64](w, `document.documentElement.scrollWidth`); wide > width {
			t.Errorf("%s is %d px wide on a phone of %d px", p.path, wide, width)
		}
		for _, small := range ask[[]string](w, smallTargets) {
			t.Errorf("%s: %s", p.path, small)
		}
		w.few(p.path)
	}
}

// smallTargets lists buttons and fields less than 48 px high, and links less than
// 44 px (WCAG 2.2, 2.5.5), those inside a sentence too; those of a drawing are as large
// as what they are drawn on.
const smallTargets = `[...document.querySelectorAll("main a, header a, footer a, aside a")].filter(a => {
		return a.getClientRects().length && !a.closest("svg") && a.getBoundingClientRect().height < 43.5;
	}).map(a => "the link " + a.textContent.trim().slice(0, 30) + " is " + a.getBoundingClientRect().height + " px high")
	.concat([...document.querySelectorAll("button, a.button, select, input:not([type=hidden]):not([type=radio]):not([type=checkbox]), summary, nav a")]
	.filter(e => e.getClientRects().length && e.getBoundingClientRect().height < 47.5)
	.map(e => e.tagName + " " + (e.textContent.trim().slice(0, 30) || e.name) + " is " + e.getBoundingClientRect().height + " px high"))`
