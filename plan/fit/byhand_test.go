package fit

// What is refused and with which bounds, what a barrel loses, which magnets a mill has, and how prints weigh, by hand.

import (
	"errors"
	"math"
	"testing"

	"hopperful/fact"
	"hopperful/process/screw"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What is outside says what it is, what was given, and between which ends it may lie.
func TestRefusalsNameTheirBounds(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	for field, c := range map[string]struct {
		set                func(*Request, float64)
		given, least, most float64
	}{
		"mass_kg":       {func(r *Request, v float64) { r.Need.Mass = p(v) }, 5001, 0, 5000},
		"volume_m3":     {func(r *Request, v float64) { r.Need.Mass, r.Need.Volume = nil, p(v) }, 5.1, 0, 5},
		"strength":      {func(r *Request, v float64) { r.Strength = p(v) }, 1.1, 0, 1},
		"nozzle_m":      {func(r *Request, v float64) { r.Nozzle = p(v) }, 0.06, 1e-4, 0.05},
		"temperature_k": {func(r *Request, v float64) { r.Temperature = p(v) }, 300, 373.15, 773.15},
	} {
		r := Request{Need: shop.Need{Mass: p(1)}, Strength: p(0.8), Draws: 10}
		c.set(&r, c.given)
		var refused *shop.Error
		if err := r.check(); !errors.As(err, &refused) || refused.Field != field {
			t.Errorf("%s: %v", field, err)
			continue
		}
		for name, want := range map[string]float64{"value": c.given, "low": c.least, "high": c.most} {
			if f, ok := refused.What.Fact(name); !ok || math.Abs(f.Value-want) > 1e-12 {
				t.Errorf("%s: %s is %g, wanted %g", field, name, f.Value, want)
			}
		}
	}
	var refused *shop.Error
	r := Request{Need: shop.Need{Mass: p(1)}, Strength: p(0.8), Draws: 20001}
	if err := r.check(); !errors.As(err, &refused) || factOf(refused.What, "n") != 20001 || factOf(refused.What, "most") != 20000 {
		t.Errorf("%v", refused)
	}
}

func factOf(s fact.Saying, name string) float64 { f, _ := s.Fact(name); return f.Value }

// A barrel loses as it stands over the room: what the books say holds at 175 K over it, what a meter says at the printer's usual melt.
func TestWhatABarrelLoses(t *testing.T) {
	t.Parallel()
	row := make([]float64, fitParams)
	row[fBarrel] = 70
	j := &job{state: &shop.State{}, temperature: 493.15}
	room, _ := j.room()
	for over, want := range map[float64]float64{0: 0, -20: 0, 175: 70, 87.5: 35, 350: 140} {
		if got := j.barrelLoss(row, room+over); math.Abs(got-want) > 1e-9 {
			t.Errorf("%g K over the room it loses %g W, by hand %g", over, got, want)
		}
	}
	if screw.BarrelLossOver != 175 {
		t.Error("the books' barrel stands elsewhere")
	}
	j.printer.IdleWatt = shoptest.P(80)
	if got := j.barrelLoss(row, room+(493.15-room)/2); math.Abs(got-35) > 1e-9 {
		t.Errorf("half as warm as metered it loses %g W", got)
	}
	j.temperature = room + 1 // no printer's melt: ten kelvin at the least
	if got := j.barrelLoss(row, room+5); math.Abs(got-35) > 1e-9 {
		t.Errorf("beside a cold melt it loses %g W", got)
	}
	row[fBarrel] = 3e4
	j.printer.IdleWatt = nil
	if got := j.barrelLoss(row, room+175); math.Abs(got-1e4) > 1e-6 {
		t.Errorf("it loses %g W", got)
	}
}

// A magnet at the mill is known where somebody said; no mill and no word are alike.
func TestWhichMagnetsAMillHas(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		magnet shop.YesNo
		n      int
		known  bool
	}{{shop.Yes, 1, true}, {shop.No, 0, true}, {shop.Unknown, 0, false}} {
		s := shoptest.Bin(t, &shop.MillSet{Mill: shop.Mill{Name: "Pot", Magnet: c.magnet}})
		if n, known := magnetAt(s, "Pot"); n != c.n || known != c.known {
			t.Errorf("magnet %q: %d, known %t", c.magnet, n, known)
		}
		if n, known := magnetAt(s, "Pan"); n != 0 || known {
			t.Errorf("a mill nobody has: %d, known %t", n, known)
		}
	}
}

// The model's word counts as four prints: with a chance of a half, two good ones make (4·0.5 + 2)/6, and one that failed a third of a print
// against it; prints of its like count half, and of the strength all count half.
func TestHowPrintsWeighByHand(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		key    string
		f      lotFacts
		chance float64
		known  bool
	}{
		{"melts", lotFacts{}, 0.5, false},
		{"melts", lotFacts{ran: 2}, 4.0 / 6, true},
		{"melts", lotFacts{ran: 2, failed: []string{"x"}}, 4.0 / (6 + 1.0/3), true},
		{"melts", lotFacts{likeRan: 2}, 3.0 / 5, false},
		{"melts", lotFacts{likeFailed: 3}, 2.0 / 4.5, false},
		{"strength", lotFacts{ran: 2}, 3.0 / 5, false},
		{"dry", lotFacts{ran: 9, likeRan: 9, ranSince: 2, failedSince: 3}, 4.0 / 7, true},
		{"enough", lotFacts{ran: 2}, 0.5, false},
	} {
		chance, known := (&job{facts: c.f}).weighed(question{key: c.key}, 0.5)
		if math.Abs(chance-c.chance) > 1e-12 || known != c.known {
			t.Errorf("case %d: %g, known %t; by hand %g", i, chance, known, c.chance)
		}
	}
	if got := (lotFacts{ranSince: 2, failedSince: 3}).whole(0.5); math.Abs(got-4.0/9) > 1e-12 {
		t.Errorf("all in all %g", got)
	}
}

// A screw of 16 mm as it is usual: a fifth of the bore deep where it feeds, a third of that at the tip, five turns that pump of ten that are
// heated; what no screw has is held to what can be made.
func TestTheUsualScrew(t *testing.T) {
	t.Parallel()
	row := make([]float64, fitParams)
	for i, c := range []struct{ depth, compression, turns, feed, tip, pump, clearance float64 }{
		{0.2, 3, 5, 3.2e-3, 3.2e-3 / 3, 0.08, 1e-4}, {0.5, 3, 5, 6.4e-3, 6.4e-3 / 3, 0.08, 1e-4}, {0.2, 0.5, 5, 3.2e-3, 3.2e-3, 0.08, 1e-4},
		{0.2, 12, 5, 3.2e-3, 4e-4, 0.08, 1e-4}, {0.1, 8, 5, 1.6e-3, 2e-4, 0.08, 5e-5}, {0.2, 3, 0.5, 3.2e-3, 3.2e-3 / 3, 0.016, 1e-4},
	} {
		row[fScrew], row[fFeedDepth], row[fCompression], row[fPumpTurns] = 0.016, c.depth, c.compression, c.turns
		s := screwOf(row)
		for what, x := range map[string][2]float64{"bore": {s.Diameter, 0.016}, "lead": {s.Lead, 0.016}, "flight": {s.Flight, 0.0016}, "feed": {s.FeedDepth, c.feed}, "tip": {s.DepthIn, c.tip}, "end": {s.DepthOut, c.tip},
			"pump": {s.Pump, c.pump}, "heated": {s.Heated, 2 * c.pump}, "clearance": {s.Clearance, c.clearance}} {
			if math.Abs(x[0]-x[1]) > 1e-12 {
				t.Errorf("case %d: %s %g m, by hand %g", i, what, x[0], x[1])
			}
		}
	}
	row[fNozzle], row[fLand] = 1e-3, 2
	if n := nozzleOf(row); n.Bore != 1e-3 || n.Land != 2e-3 || n.Entry != 4e-3 || math.Abs(n.Taper-2.6e-3) > 1e-12 {
		t.Errorf("%+v", n)
	}
	// Air cannot be damper than damp.
	j := &job{state: &shop.State{}, beliefs: prior()}
	row = j.medians()
	j.state.Shop.RoomHumidity = shoptest.P(1)
	damp := j.wet(row)
	if j.state.Shop.RoomHumidity = shoptest.P(1.3); j.wet(row) != damp {
		t.Errorf("%g in damp air, %g in damper", damp, j.wet(row))
	}
	j.state.Shop.RoomHumidity = shoptest.P(0)
	dry := j.wet(row)
	if j.state.Shop.RoomHumidity = shoptest.P(-0.3); j.wet(row) != dry || dry >= damp {
		t.Errorf("%g in dry air, %g in drier, %g in damp", dry, j.wet(row), damp)
	}
}
