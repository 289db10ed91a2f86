package web

import "testing"

// TestThePhoneCutsNothingOff: where the books' bands and the lots of a batch are shown, a
// phone shows all of them, with words as large as a hand's breadth away needs.
func TestThePhoneCutsNothingOff(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), shopToLookAt(t))
	for _, width := range []int64{320, 390, 690, 1280} {
		w.look(width, 844, false)
		for _, path := range []string{"/books", "/blend/-/sheet?mass_kg=200+g&polymer=PLA&take=R1%3A0.12%2CR2%3A0.03%2CV1%3A0.07"} {
			w.at(path)
			for _, fault := range ask[[]string](w, cutOff) {
				t.Errorf("%s on %d px: %s", path, width, fault)
			}
		}
	}
}

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
		const large = 15 * svg.getScreenCTM().a;
		if (large < 11) faults.push("words of " + large.toFixed(1) + " px");
		if (box.left < 0 || box.right > innerWidth) faults.push("the picture reaches from " + box.left + " to " + box.right);
		words.forEach(([a, r], i) => {
			if (r.left < box.left || r.right > box.right || r.bottom > box.bottom) faults.push(a + " stands beyond the picture");
			words.slice(i + 1).forEach(([b, s]) => {
				if (Math.min(r.right, s.right) - Math.max(r.left, s.left) > 0 && Math.min(r.bottom, s.bottom) - Math.max(r.top, s.top) > r.height / 4) faults.push(a + " runs over " + b);
			});
		});
	}
	return faults;
})()`
