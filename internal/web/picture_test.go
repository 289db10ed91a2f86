package web

import (
	"context"
	"os"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"hopperful/internal/web/address"
	"hopperful/plan/campaign"
	"hopperful/shop"
)

// shown are the pages whose pictures are kept.
var shown = []struct{ name, path string }{
	{"now", "/"}, {"stock", "/stock"}, {"lot", "/stock/R1"}, {"plan-list", "/plan"}, {"plan", "/plan/four%20planter%20feet"},
	{"machines", "/machines"}, {"materials", "/materials"}, {"material", "/materials/PETG"},
	{"blend", "/blend/-?mass_kg=240+g&polymer=PLA&mean_age=1.2"}, {"charge", "/record/charge"}, {"take-in", "/record/take-in"}, {"records", "/records"},
}

// inDocs are the pictures the documents show: what fits a window, no more.
var inDocs = []struct {
	name, path    string
	width, height int64
	dark          bool
}{
	{"plan", "/plan/four%20planter%20feet", 1280, 1240, false},
	{"stock", "/stock", 1280, 860, false},
	{"lot", "/stock/R1", 1280, 860, true},
	{"family", "/stock/S3/family", 1280, 1240, false},
	{"age", "/stock/R1#age", 1280, 900, false},
	{"plan-phone", "/plan/four%20planter%20feet", 390, 844, false},
	{"charge-phone", "/record/charge?lot=S1", 390, 844, true},
	{"fit", "/fit/R1/door%20wedge", 1280, 1100, false},
	{"blend", "/blend/-?mass_kg=200+g&polymer=PLA&mean_age=1.5&tinted=yes&rgb=%236e6a66&within=25", 1280, 1500, false},
	{"weigh-phone", "/blend/-/weigh?mass_kg=200+g&polymer=PLA&take=R1%3A0.12%2CR2%3A0.03%2CV1%3A0.07&put=R1%3A0.1204", 390, 844, false},
	{"learn", "/machines/Rattle/learn", 1280, 1000, true},
	{"reckon-phone", "/reckon/drying", 390, 844, false},
	{"identify", "/identify/S7?chlorine=no&found=limp70%3Dno&found=acetone%3Dno", 1280, 900, false},
	{"identify-phone", "/identify/S7?chlorine=no&found=limp70%3Dyes&found=snaps%3Dyes", 390, 844, true},
}

func TestPictures(t *testing.T) {
	t.Parallel()
	browser := oneBrowser(t)
	b := shopToLookAt(t)
	w := open(t, browser, b)
	keep := os.Getenv("HOPPERFUL_ARTEFACTS") != ""
	for _, width := range []int64{390, 1280} {
		for _, dark := range []bool{false, true} {
			if !keep && (dark || width == 390) {
				continue // nobody looks; one of the four kinds still shows that the pages draw
			}
			suffix := map[int64]string{390: "-phone", 1280: "-desk"}[width]
			if dark {
				suffix += "-dark"
			}
			w.look(width, 844, dark)
			for _, page := range shown {
				w.at(page.path)
				w.keep(page.name+suffix, chromedp.FullScreenshot(100))
			}
		}
	}
	if keep {
		docs := inDocs
		if all := b.store.State().Sievings("R1"); len(all) > 0 {
			one := docs[0]
			one.name, one.path, one.height = "sieving", address.Sieving("R1", all[0].ID), 1000
			docs = append(docs, one)
		}
		for _, v := range docs {
			w.look(v.width, v.height, v.dark)
			w.at(v.path)
			w.do("drawing", chromedp.Sleep(4*shortWait))
			w.keep("docs-"+v.name, chromedp.CaptureScreenshot())
		}
		millPictures(t, browser)
		sensorPictures(t, browser)
	}
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
}

// millPictures are those of a campaign of nine charges, two of them done, on the
// phone beside the mill.
func millPictures(t *testing.T, browser context.Context) {
	t.Helper()
	now := noon
	b := emptyShop(t, Options{Now: func() time.Time { return now }})
	id := nine(t, b.store, noon, 100, 300)
	w := open(t, browser, b)
	w.look(390, 844, false)
	keep := func(name string) {
		w.at(address.Run(id))
		w.do("drawing", chromedp.Sleep(4*shortWait))
		w.keep("docs-"+name, chromedp.CaptureScreenshot())
	}
	say := func(what shop.Mark) {
		if _, err := b.store.Append(context.Background(), now, shop.Record{Body: &shop.CampaignMarked{Campaign: id, What: what}}); err != nil {
			t.Fatal(err)
		}
	}
	say(shop.SheetSkipped)
	for k := range 3 {
		say(shop.RunStarted)
		now = now.Add(27 * time.Second)
		if k == 2 {
			keep("mill-running-phone")
		}
		now = now.Add(73 * time.Second)
		say(shop.RunStopped)
		if k == 2 {
			keep("mill-record-phone")
		}
		g := campaign.Filled(b.store.State(), b.store.State().Campaigns[0], nil)
		product := 0.074 + 0.002*float64(k)
		g.Product = &product
		if _, err := b.store.Append(context.Background(), now, shop.Record{At: now, Body: g}); err != nil {
			t.Fatal(err)
		}
		now = now.Add(2 * time.Minute)
	}
	w.look(390, 844, true)
	keep("mill-rest-phone")
}
