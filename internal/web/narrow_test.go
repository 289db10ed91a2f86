package web

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"hopperful/internal/web/address"
	"hopperful/shop"
)

// TestThePhoneCutsNothingOff: where the books' bands and the lots of a batch are shown, a
// phone shows all of them, with words as large as a hand's breadth away needs.
func TestThePhoneCutsNothingOff(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), shopToLookAt(t))
	w.walk([]int64{320, 390, 690, 1280}, []string{"/books", "/blend/-/sheet?mass_kg=200+g&polymer=PLA&take=R1%3A0.12%2CR2%3A0.03%2CV1%3A0.07"}, func(width int64, path string) {
		for _, fault := range ask[[]string](w, cutOff) {
			t.Errorf("%s on %d px: %s", path, width, fault)
		}
	})
}

// walk looks at each page at each width, in the light.
func (w *tab) walk(widths []int64, paths []string, look func(width int64, path string)) {
	w.t.Helper()
	for _, width := range widths {
		w.look(width, 844, false)
		for _, path := range paths {
			w.at(path)
			look(width, path)
		}
	}
}

// TestNoWordLeavesItsPlace: what stands in a card, a cell, a line or a button ends in it,
// on narrow phones, where the desk begins, and on a desk, with all that can be opened open.
func TestNoWordLeavesItsPlace(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), shopToLookAt(t))
	pages := []string{"/stock", "/machines", "/materials/PETG", "/plan/four%20planter%20feet", "/stock/R1", "/fit/R1/door%20wedge"}
	w.nothingLeaves([]int64{320, 390, 1000, 1280}, pages...)
	w = open(t, oneBrowser(t), inGerman(t))
	w.nothingLeaves([]int64{320, 1000}, pages[3])
}

// nothingLeaves holds all words of pages to what holds them. A page is fetched once and lies
// in a window of each width, first as it came, then with all opened.
func (w *tab) nothingLeaves(widths []int64, paths ...string) {
	w.t.Helper()
	for _, path := range paths {
		w.at(path)
		for _, open := range []bool{false, true} {
			if open {
				ask[bool](w, `[...document.querySelectorAll("main details")].forEach((d) => { d.open = true; }) || true`)
			}
			for _, width := range widths {
				w.look(width, 844, false)
				for _, fault := range ask[[]string](w, leaves) {
					w.t.Errorf("%s on %d px, opened %t: %s", path, width, open, fault)
				}
			}
		}
	}
}

// leaves are words that end beyond what holds them.
const leaves = `(() => {
	const faults = [], walk = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
	for (let n; (n = walk.nextNode());) {
		const e = n.parentElement;
		if (!n.textContent.trim() || e.closest("svg, .scroll, .seen-by-readers, script, option, textarea") || !e.checkVisibility({contentVisibilityAuto: true})) continue;
		const box = (e.closest("td, th, li, dd, dt, button, summary, a.button") || e).getBoundingClientRect(), range = document.createRange();
		range.selectNodeContents(n);
		for (const r of range.getClientRects()) {
			if (r.width > 0 && r.right > Math.min(box.right, innerWidth) + 1.5) faults.push(n.textContent.trim().slice(0, 40) + " by " + (r.right - box.right).toFixed() + " px");
		}
	}
	return faults;
})()`

// cutOff is what can be seen only by moving it sideways, and what is wrong with the books'
// picture: not one of it, words beyond it, over one another or smaller than 11 px.
const cutOff = `(() => {
	const seen = (e) => e.checkVisibility({contentVisibilityAuto: true}), faults = [];
	for (const s of document.querySelectorAll("main .scroll")) {
		if (seen(s) && s.scrollWidth > s.clientWidth + 1) faults.push(s.scrollWidth + " px in " + s.clientWidth + ": " + s.textContent.trim().slice(0, 40));
	}
	const all = [...document.querySelectorAll("svg.books-flow")].filter(seen);
	if (document.querySelector("svg.books-flow") && all.length !== 1) faults.push(all.length + " pictures of the books");
	for (const svg of all) {
		const box = svg.getBoundingClientRect(), words = [...svg.querySelectorAll("text")].map((t) => [t.textContent, t.getBoundingClientRect()]);
		const bands = [...svg.querySelectorAll(".band")], covers = (p, r) => {
			const m = p.getScreenCTM(), thick = m.a * p.getAttribute("stroke-width") / 2, long = p.getTotalLength();
			for (let at = 0; at <= long; at += 3) {
				const q = p.getPointAtLength(at).matrixTransform(m);
				if (q.x > r.left - thick && q.x < r.right + thick && q.y > r.top + 4 - thick && q.y < r.bottom - 4 + thick) return true;
			}
			return false;
		};
		const large = 15 * svg.getScreenCTM().a;
		if (large < 11) faults.push("words of " + large.toFixed(1) + " px");
		if (box.left < 0 || box.right > innerWidth) faults.push("the picture reaches from " + box.left + " to " + box.right);
		words.forEach(([a, r], i) => {
			if (r.left < box.left || r.right > box.right || r.bottom > box.bottom) faults.push(a + " stands beyond the picture");
			const under = bands.filter((p) => covers(p, r)).length;
			if (under) faults.push(a + " stands on " + under + " bands");
			words.slice(i + 1).forEach(([b, s]) => {
				if (Math.min(r.right, s.right) - Math.max(r.left, s.left) > 0 && Math.min(r.bottom, s.bottom) - Math.max(r.top, s.top) > r.height / 4) faults.push(a + " runs over " + b);
			});
		});
	}
	return faults;
})()`

// TestNamesInChartsKeepOffTheInk: what a curve or a limit is called stands beside the curves,
// the points and the limits of a chart, where there is room.
func TestNamesInChartsKeepOffTheInk(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), shopToLookAt(t))
	pages := []string{"/plan/four%20planter%20feet", "/plan/vase", "/machines/Rattle/learn", "/fit/R1/door%20wedge", "/dry/R1"}
	w.walk([]int64{320, 390, 1280}, pages, w.namesApart)
	w = open(t, oneBrowser(t), inGerman(t))
	w.walk([]int64{320, 1000}, []string{"/machines/Rattle/learn"}, w.namesApart)
	w.walk([]int64{320, 1000}, []string{"/plan/vase", "/dry/R1"}, w.namesApart)
}

// inGerman is the shop to look at for a browser that asks for German, whose words are longer.
func inGerman(t testing.TB) *bench {
	t.Helper()
	return inTheir("de", shopToLookAt(t))
}

// inTheir makes a shop's pages for browsers that ask for a language.
func inTheir(language string, b *bench) *bench {
	pages := b.pages
	b.pages = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		r.Header.Set("Accept-Language", language)
		pages.ServeHTTP(w, r)
	})
	return b
}

// namesApart holds the names in a page's charts to their places.
func (w *tab) namesApart(width int64, path string) {
	w.t.Helper()
	// Opened anew each time: a page that follows the shop may be shown afresh meanwhile.
	w.until("the charts are drawn", `([...document.querySelectorAll("details.more")].forEach((d) => { d.open = true; }),
		[...document.querySelectorAll("figure[data-chart] .draw")].every((d) => d.querySelector("svg.plot")))`)
	if n := ask[int](w, `document.querySelectorAll("svg.plot [aria-label=text] text").length`); n == 0 {
		w.t.Errorf("%s names nothing", path)
	}
	for _, fault := range ask[[]string](w, tooMuch) {
		if strings.HasPrefix(fault, "in a chart") {
			w.t.Errorf("%s on %d px: %s", path, width, fault)
		}
	}
	if width < 390 {
		return // no room to keep off everything
	}
	for _, fault := range ask[[]string](w, onInk) {
		w.t.Errorf("%s on %d px: %s", path, width, fault)
	}
}

// TestTheSieveSheetIsNotSqueezed: a line that opens is as high as a thumb and clear of the one
// above it, and what is said to a sieve stands below its field.
func TestTheSieveSheetIsNotSqueezed(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), shopToLookAt(t))
	w.look(1280, 844, false)
	w.at("/record/sieve?lot=R1")
	for _, fault := range ask[[]string](w, `(() => {
		const faults = [], box = (e) => e.getBoundingClientRect(), folds = [...document.querySelectorAll(".stack-choice > details")];
		folds.slice(1).forEach((e, i) => { if (box(e).top < box(folds[i]).bottom - 1) faults.push(e.textContent.trim().slice(0, 30) + " lies over the line above"); });
		const helps = [...document.querySelectorAll(".on-sieves .field > .help")];
		helps.forEach((e) => { if (box(e).left < box(e.closest(".field").querySelector("input")).left - 1) faults.push(e.textContent + " stands below the name"); });
		if (folds.length < 2 || !helps.length) faults.push("nothing to look at");
		return faults;
	})()`) {
		t.Error(fault)
	}
}

// onInk are names through which a curve, a point or a limit runs: followed along what is
// drawn in steps of two pixels, three pixels inside the name's box, where its letters are.
const onInk = `(() => {
	const faults = [];
	for (const svg of document.querySelectorAll("svg.plot")) {
		if (svg.getBoundingClientRect().width < 300) continue; // beside a table; no room to keep off everything
		const drawn = [...svg.querySelectorAll("[aria-label=line] path, [aria-label=dot] path, [aria-label=dot] circle, [aria-label=rule] line")].filter((e) => e.closest("g").getAttribute("stroke-opacity") !== "0");
		for (const t of svg.querySelectorAll("[aria-label=text] text")) {
			const r = t.getBoundingClientRect();
			const under = drawn.filter((e) => {
				const m = e.getScreenCTM(), long = e.getTotalLength();
				for (let at = 0; at <= long; at += 2) {
					const p = e.getPointAtLength(at).matrixTransform(m);
					if (p.x > r.left + 1 && p.x < r.right - 1 && p.y > r.top + 3 && p.y < r.bottom - 3) return true;
				}
				return false;
			});
			if (under.length) faults.push(t.textContent + " lies on " + under.length);
		}
	}
	return faults;
})()`

// TestASheetShowsWhatWasWrittenLast: a desk shows the latest records of the kind beside the
// sheet and clear of it, the newest first; a phone does not, and a description has none.
func TestASheetShowsWhatWasWrittenLast(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	b := shopToLookAt(t)
	var want []string
	for r := range b.store.State().History.Page(0, true, &shop.Ground{}) {
		if want = append(want, address.Number(r.ID)); len(want) == 5 {
			break
		}
	}
	w := open(t, oneBrowser(t), b)
	w.look(1280, 844, false)
	w.at("/record/charge")
	got := ask[[]string](w, `[...document.querySelectorAll(".latest .no")].filter((e) => e.checkVisibility()).map((e) => e.textContent)`)
	if !slices.Equal(got, want) {
		t.Errorf("beside a charge stand records %v, the latest are %v", got, want)
	}
	if gap := ask[float64](w, `document.querySelector(".latest").getBoundingClientRect().left - document.querySelector("form.fill").getBoundingClientRect().right`); !(gap > 20) {
		t.Errorf("they stand %g px from the sheet", gap)
	}
	w.look(390, 844, false)
	if ask[bool](w, `document.querySelector(".latest").checkVisibility()`) {
		t.Error("a phone shows them")
	}
	if page := b.get("/record/shop").Body.String(); strings.Contains(page, `class="latest`) {
		t.Error("the shop's settings have latest records")
	}
}
