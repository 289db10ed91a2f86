package web

import (
	"context"
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"hopperful/internal/web/address"
	"hopperful/internal/web/lots"
	"hopperful/shop"
)

// TestALongShelfIsTurnedLikeABook follows the page's own links: every lot is on
// exactly one of them, and the sum is that of all.
func TestALongShelfIsTurnedLikeABook(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	const kept = 100
	var all []shop.Record
	for i := range kept {
		all = append(all, shop.Record{At: noon, Body: &shop.TakenIn{Lot: shop.LotID(fmt.Sprintf("S%d", i+1)), Class: shop.Scrap, Mass: 1, Polymer: "PLA"}})
	}
	if _, err := b.store.Append(context.Background(), noon, all...); err != nil {
		t.Fatal(err)
	}
	seen := map[string]int{}
	card, more := regexp.MustCompile(`href="/stock/(S\d+)"`), regexp.MustCompile(`href="(/stock\?shelf=[^"]+)">\d+ more lots?<`)
	path, turned := "/stock", 0
	for ; path != ""; turned++ {
		body := b.get(path).Body.String()
		if !strings.Contains(body, "100\u00a0kg") {
			t.Errorf("%s lacks the sum", path)
		}
		if (turned > 0) != strings.Contains(body, "before these") {
			t.Errorf("%s: the way back is wrong", path)
		}
		for _, m := range card.FindAllStringSubmatch(body, -1) {
			seen[m[1]]++
		}
		path = ""
		if m := more.FindStringSubmatch(body); m != nil {
			path = strings.ReplaceAll(m[1], "&amp;", "&")
		}
	}
	if turned != (kept+lots.PerShelf-1)/lots.PerShelf || len(seen) != kept {
		t.Errorf("%d pages show %d of %d lots", turned, len(seen), kept)
	}
	for id, n := range seen {
		if n != 1 {
			t.Errorf("%s is shown %d times", id, n)
		}
	}
	for path, want := range map[string]int{"/stock?shelf=scrap&page=99": http.StatusOK, "/stock?shelf=regrind&page=0": http.StatusSeeOther, "/stock?shelf=nothing": http.StatusSeeOther, "/stock?shelf=scrap&page=-1": http.StatusOK} {
		if w := b.get(path); w.Code != want {
			t.Errorf("%s answers %d, wanted %d", path, w.Code, want)
		}
	}
}

// A list can be searched: every word must be found, and the pages of what was
// found lead to each other.
func TestListsAreSearched(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	shows := func(path string, want, not string) {
		t.Helper()
		body := b.get(path).Body.String()
		if !strings.Contains(body, want) || not != "" && strings.Contains(body, not) {
			t.Errorf("%s: shows %q: %v, shows %q: %v", path, want, strings.Contains(body, want), not, strings.Contains(body, not))
		}
	}
	shows("/stock", `type="search"`, "")
	shows("/stock?q=petg", "PETG", `href="/stock/V1"`)
	shows("/stock?q=R1+pla", `href="/stock/R1"`, `href="/stock/S1"`)
	shows("/stock?q=mithril", "No lot has all of these words", `class="shelf"`)
	shows("/records?q=stalled", "stalled", "dried R")
	shows("/records?kind=dried", "dried", "ground ")
	shows("/records?q=mithril", "No record has all of that", `class="log"`)
	if body := b.get("/records?kind=ground").Body.String(); !strings.Contains(body, "/records?page=1&amp;kind=ground") && strings.Contains(body, "Older") {
		t.Error("the next page forgets what was looked for")
	}
}

// What can be done with a lot stands before where it came from and what happened.
func TestALotsActionsComeBeforeItsHistory(t *testing.T) {
	t.Parallel()
	body := shopToLookAt(t).get("/stock/R1").Body.String()
	acts := strings.Index(body, `aria-label="What to do now"`)
	for _, later := range []string{"Where it came from and went to", "<h2>Records</h2>"} {
		if at := strings.Index(body, later); at < acts {
			t.Errorf("%q comes first", later)
		}
	}
}

// The first page names each need once.
func TestTheFirstPageNamesANeedOnce(t *testing.T) {
	t.Parallel()
	b := plannedShop(t, Options{})
	body := b.get("/").Body.String()
	for _, n := range b.store.State().Needs {
		links := strings.Count(body, `href="`+address.Plan(n.Name)) + strings.Count(body, `href="`+address.Blend(n.Name))
		main := strings.Count(body, `main-act" href="`+address.Plan(n.Name)) + strings.Count(body, `main-act" href="`+address.Blend(n.Name))
		if links-main > 1 || !n.Done && links == 0 {
			t.Errorf("%s is led to %d times", n.Name, links)
		}
	}
}

// An empty stock offers its one action once, and keeps the number of its example with its unit.
func TestAnEmptyStockOffersOneAction(t *testing.T) {
	t.Parallel()
	page := emptyShop(t, Options{}).get("/stock").Body.String()
	if n := strings.Count(page, `href="/record/take-in"`); n != 1 {
		t.Errorf("taking in is offered %d times", n)
	}
	if !strings.Contains(page, "1.2\u00a0kg") {
		t.Error("the example breaks between its number and its unit")
	}
}
