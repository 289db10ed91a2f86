package identification_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hopperful/plan/identification"
	"hopperful/polymer/identify"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

func found(t *testing.T, texts ...string) []identify.Finding {
	t.Helper()
	var all []identify.Finding
	for _, text := range texts {
		f, err := identification.ReadFinding(text)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, f)
	}
	return all
}

// binOf is a shop with one bin nobody knows.
func binOf(t *testing.T, halogen shop.YesNo) *shop.State {
	t.Helper()
	return shoptest.Bin(t, &shop.TakenIn{Lot: "S1", Class: shop.Scrap, Name: "bin, no label", Mass: 0.5, Halogen: halogen})
}

func TestAnAnswerIsKeptWithItsLot(t *testing.T) {
	t.Parallel()
	s := binOf(t, "")
	opt := identification.Options{Lot: "S1", Findings: found(t, "limp70=yes", "snaps=yes")}
	out := identified(t, s, opt)
	r, err := identification.Keep(s, opt, out)
	if err != nil {
		t.Fatal(err)
	}
	p := r.Body.(*shop.Sorted).Into[0]
	if p.Polymer != "PLA" || p.Name != "bin, no label" || p.Mass != 0.5 || !(math.Abs(*p.Sure-out.Materials[0].Share.Value) < 0.0101 && *p.Sure > 0.9 && *p.Sure <= 0.99) {
		t.Errorf("kept as %+v", p)
	}
	if f, _ := out.Note().Fact("found"); len(f.Parts) != 2 || out.Steps[0].Do.Code != "do.keep_piece" {
		t.Errorf("note %+v, step %+v", out.Note(), out.Steps[0])
	}
	after, err := shop.Fold(append(s.History.List(), shop.Record{ID: s.Newest().ID + 1, At: s.Newest().At, NotedAt: s.Newest().NotedAt, Body: &shop.Sorted{From: "S1",
		Into: []shop.Part{{Lot: "S2", Name: p.Name, Polymer: p.Polymer, Sure: p.Sure, Mass: p.Mass}}}}))
	if err != nil {
		t.Fatal(err)
	}
	if l := after.Lots.At("S2"); l.Polymer != "PLA" || l.Mass != 0.5 || after.Lots.At("S1").Mass != 0 {
		t.Errorf("the shop holds %+v", l)
	}
}

func TestWhatIsNotKeptSaysWhatToDo(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		halogen   shop.YesNo
		opt       identification.Options
		say, hint string
	}{
		"no lot":  {"", identification.Options{Findings: found(t, "limp70=yes")}, "identification.no_lot_said", "identification.name_the_lot"},
		"nothing": {"", identification.Options{Lot: "S1"}, "identification.nothing_new", "identification.try_first"},
		"unclear": {"", identification.Options{Lot: "S1", Findings: found(t, "limp70=no", "whitens=yes")}, "identification.still_open", "identification.try_first"},
		"stopped": {"", identification.Options{Lot: "S1", Chlorine: shop.Yes, Findings: found(t, "limp70=yes", "snaps=yes")}, "identification.all_stops", "do.mark_chlorine"},
		"marked":  {shop.Yes, identification.Options{Lot: "S1", Findings: found(t, "limp70=yes", "snaps=yes")}, "identification.all_stops", "identification.set_aside"},
	} {
		s := binOf(t, c.halogen)
		_, err := identification.Keep(s, c.opt, identified(t, s, c.opt))
		var e *shop.Error
		if !errors.As(err, &e) || e.What.Code != c.say || e.Advice.Code != c.hint {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestASuspectedLotIsMarked(t *testing.T) {
	t.Parallel()
	s := binOf(t, "")
	opt := identification.Options{Lot: "S1", Chlorine: shop.Yes}
	r, err := identification.Suspect(s, opt, identified(t, s, opt))
	if err != nil || r.Body.(*shop.Sorted).Into[0].Halogen != shop.Yes {
		t.Fatalf("%+v, %v", r, err)
	}
	opt.Chlorine = shop.No
	if _, err := identification.Suspect(s, opt, identified(t, s, opt)); err == nil {
		t.Error("a lot nothing speaks against was marked")
	}
	s = binOf(t, shop.Yes)
	if _, err := identification.Suspect(s, opt, identified(t, s, opt)); err == nil || !strings.Contains(err.Error(), "identification.marked_already") {
		t.Errorf("marked twice: %v", err)
	}
}

// What each finding moved starts from what was thought before and ends at what
// is thought now; what an answer would mean is what it then means.
func TestMovesAndForecastsAgreeWithTheAnswer(t *testing.T) {
	t.Parallel()
	s := emptyShop(t)
	texts := []string{"limp70=yes", "limp70=no", "snaps=yes", "snaps=no", "acetone=no", "rubbery=no", "floats water=no", "floats 1.16g/cm3=yes"}
	rapid.Check(t, func(r *rapid.T) {
		opt := identification.Options{Solid: shop.Yes, Findings: found(t, rapid.SliceOfNDistinct(rapid.SampledFrom(texts), 1, 4, rapid.ID[string]).Draw(r, "found")...)}
		out := identified(t, s, opt)
		if len(out.Moved) != len(opt.Findings) {
			r.Fatalf("%d moves of %d findings", len(out.Moved), len(opt.Findings))
		}
		before := opt
		before.Findings = opt.Findings[:len(opt.Findings)-1]
		then := map[string]float64{}
		for _, m := range identified(t, s, before).Materials {
			then[m.Polymer] = m.Share.Value
		}
		last := out.Moved[len(out.Moved)-1]
		for _, m := range out.Materials {
			if m.Was == nil || math.Abs(m.Was.Value-then[m.Polymer]) > 1e-12 {
				r.Fatalf("%s was %v, before it was %g", m.Polymer, m.Was, then[m.Polymer])
			}
			if m.Polymer == last.Polymer && (m.Share.Value != last.After.Value || m.Was.Value != last.Before.Value) {
				r.Fatalf("%s moved from %g to %g", m.Polymer, last.Before.Value, last.After.Value)
			}
			if math.Abs(m.Share.Value-m.Was.Value) > math.Abs(last.After.Value-last.Before.Value)+1e-12 {
				r.Fatalf("%s moved more than %s", m.Polymer, last.Polymer)
			}
		}
		if out.Next == nil {
			return
		}
		opt.Findings = append(opt.Findings, out.Next.Finding(true))
		next := identified(t, s, opt)
		is, _ := out.Next.IfYes.Fact("polymer")
		if stop := out.Next.IfYes.Code == "identification.then_stop"; stop != next.Stopped || !stop && is.Text != next.Polymer {
			r.Fatalf("a yes would mean %+v, and meant %s", out.Next.IfYes, next.Polymer)
		}
	})
}

// PLA and PETG lie 25 kg/m³ apart: the liquid named lies between.
func TestTheLiquidBetweenTheLikeliest(t *testing.T) {
	t.Parallel()
	out := identified(t, emptyShop(t), identification.Options{Findings: found(t, "limp70=no", "acetone=no")})
	if p := out.Part; p == nil || p.Light != "PLA" || p.Heavy != "PETG" || !(p.Test.At >= 1245 && p.Test.At <= 1270) {
		t.Errorf("%+v", out.Part)
	}
	if out := identified(t, emptyShop(t), identification.Options{Chlorine: shop.Yes}); out.Part != nil {
		t.Error("a stopped piece is to be floated")
	}
}
