package web

import (
	"context"
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"hopperful/shop"
)

// TestALongShelfIsTurnedLikeABook follows the page's own links: every lot is on
// exactly one of them, and the sum is that of all.
func TestALongShelfIsTurnedLikeABook(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	const lots = 100
	var all []shop.Record
	for i := range lots {
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
	if turned != (lots+perShelf-1)/perShelf || len(seen) != lots {
		t.Errorf("%d pages show %d of %d lots", turned, len(seen), lots)
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
