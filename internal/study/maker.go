package study

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"hopperful/internal/study/outside"
	"hopperful/shop"
)

// A maker works with a mill from outside the equations and writes down what
// makers write down: little, rough, and now and then wrong. The records go
// through the shop's own checks, as they do from a terminal or a page.

// maker is one mill, its owner and the shop's book.
type maker struct {
	mill   *outside.Mill
	chance *rand.Rand
	state  *shop.State
	at     time.Time
	digit  float64 // of the scale [kg]
	habits habits
	sure   bool // makes no slips

	yields  []float64 // product over charge of every record, as written
	ran     []outside.Setting
	scrap   []float64 // how readily it broke, of every run in the book
	honest  int       // records offered without a slip
	refused []string  // and turned down, with what was said
	doubted []string  // and asked about though true
	slips   []slip
	kept    float64    // in the lot being filled, as booked [kg]
	into    shop.LotID // that lot
	charges int        // of the session so far
	session int        // charges it will have
}

// habits are how often a maker reads what.
type habits struct{ left, wallBefore, wallAfter, charge, energy, room, rest float64 }

// slip is a wrong number in the book.
type slip struct {
	record shop.RecordID // 0: it was not taken in, or asked about at once
	field  string
	what   string
}

// Slips happen once in so many records.
const slipEvery = 25

// morning is when the book begins.
var morning = time.Date(2026, 3, 2, 16, 0, 0, 0, time.UTC)

// known is a value that was read.
func known(v float64) *float64 { return &v }

// newMaker gives a mill an owner.
func newMaker[S outside.Seed](seed S) (*maker, error) {
	return makerOf(outside.New(seed), seed.Chance(1))
}

// makerOf gives a mill an owner with habits of this chance.
func makerOf(mill *outside.Mill, chance *rand.Rand) (*maker, error) {
	m := &maker{mill: mill, chance: chance, at: morning, digit: 0.001}
	if m.odds(0.3) {
		m.digit = 0.005
	}
	m.habits = habits{left: 0.12 + 0.15*m.chance.Float64(), wallBefore: m.chance.Float64(), wallAfter: 0.3 + 0.6*m.chance.Float64(),
		charge: 0.25 * m.chance.Float64(), energy: 0.2 * m.chance.Float64(), room: 0.6 * m.chance.Float64(), rest: 0.4 + 0.6*m.chance.Float64()}
	state, err := shop.Fold(nil)
	if err != nil {
		return nil, err
	}
	m.state = state
	pieces := shop.Pieces{}
	if m.odds(0.6) {
		pieces = shop.Pieces{Largest: known(0.03), Wall: known(0.0016), Infill: known(0.2)}
	}
	for _, b := range []shop.Body{
		&shop.ShopSet{Name: "Outside", Currency: "EUR", RoomTemperature: known(m.mill.Face.Room), Handling: known(handling)},
		&shop.ScaleSet{Scale: shop.Scale{Name: "kitchen", Resolution: m.digit}},
		&shop.MillSet{Mill: m.described()},
		&shop.TakenIn{Class: shop.Scrap, Name: "failed prints", Polymer: m.mill.Face.Polymer, Sure: known(0.95), Colour: "grey", Halogen: shop.No,
			Mass: 60, Pieces: pieces},
	} {
		if err := m.write(b); err != nil {
			return nil, fmt.Errorf("setting up: %w", err)
		}
	}
	return m, nil
}

// handling is the time to empty, weigh and fill again [s].
const handling = 60.0

const (
	millName = "Mill"
	scrapLot = shop.LotID("S1")
)

func (m *maker) odds(p float64) bool { return m.chance.Float64() < p }

// sometimes keeps a value with a chance.
func (m *maker) sometimes(p, v float64) *float64 {
	if m.odds(p) {
		return &v
	}
	return nil
}

// described is the mill as its owner writes it down; much stays unknown.
func (m *maker) described() shop.Mill {
	f := m.mill.Face
	mill := shop.Mill{Name: millName, RatedPower: known(f.Rated), Chamber: known(f.Chamber), Inlet: known(0.06), Jar: known(f.Jar), WallMetal: shop.Steel,
		WallMass: m.sometimes(0.5, f.Wall), RotorDiameter: m.sometimes(0.4, f.Rotor),
		Screen: shop.Screen{Hole: m.sometimes(0.95, f.Hole), OpenShare: m.sometimes(0.4, math.Round(f.Open*20)/20)},
		Magnet: shop.Yes, LidSwitch: shop.Yes, Earth: shop.Yes, ResidualCurrent: shop.Yes, Thermometer: shop.OuterWall}
	if f.Levels > 0 {
		c := &shop.Control{Levels: f.Levels, Continuous: known(f.Rated)}
		if m.odds(0.2) {
			one := m.mill.Quiet().Run(m.mill.Usual)
			c.Watts = []shop.LevelWatts{{Level: m.mill.Usual.Level, Watts: math.Round(one.Energy/one.Time/10) * 10}}
		}
		mill.Controller = c
	}
	return mill
}

// write keeps a record.
func (m *maker) write(b shop.Body) error {
	next, err := m.state.With(shop.Record{At: m.at, NotedAt: m.at, Body: b})
	if err != nil {
		return err
	}
	m.state = next
	return nil
}

// practice is a setting of the kind the maker uses; odd ones now and then.
func (m *maker) practice(odd bool) outside.Setting {
	s := m.mill.Usual
	s.Charge *= math.Exp(0.13 * m.chance.NormFloat64())
	if s.Level > 0 && m.odds(0.35) {
		s.Level += 1 - 2*m.chance.IntN(2)
	}
	if m.odds(0.4) {
		s.Time *= []float64{0.75, 0.85, 1.2, 1.4}[m.chance.IntN(4)]
	}
	if odd && m.odds(0.1) {
		switch m.chance.IntN(3) {
		case 0:
			s.Charge *= []float64{0.7, 1.3}[m.chance.IntN(2)]
		case 1:
			s.Time *= 1.5
		case 2:
			if s.Level > 0 {
				s.Level += []int{-2, 2}[m.chance.IntN(2)]
			}
		}
	}
	return m.feasible(s)
}

// feasible rounds a setting to what can be set and weighed.
func (m *maker) feasible(s outside.Setting) outside.Setting {
	step := max(m.digit, 0.005)
	s.Charge = max(2*step, math.Round(s.Charge/step)*step)
	s.Time = max(20, math.Round(s.Time/15)*15)
	if m.mill.Face.Levels > 0 {
		s.Level = min(max(s.Level, 1), m.mill.Face.Levels)
	}
	return s
}

// weigh reads the scale.
func (m *maker) weigh(kg float64) float64 {
	v := kg + 0.5*m.digit*m.chance.NormFloat64()
	return math.Round(math.Max(0, v)/m.digit) * m.digit
}

// warmth reads a thermometer: whole degrees.
func (m *maker) warmth(kelvin float64) float64 {
	return math.Round(kelvin-273.15+m.chance.NormFloat64()) + 273.15
}

// inside is what grains cool by before they are felt [K].
const inside = 1.0

// metered reads an energy: whole watt-hours.
func (m *maker) metered(joule float64) float64 {
	return math.Round(joule*(1+0.02*m.chance.NormFloat64())/3600) * 3600
}

// day lets the mill cool and begins a session.
func (m *maker) day() error {
	if m.kept > 0 {
		if err := m.write(&shop.Printed{From: m.into, Print: "part", Mass: m.kept}); err != nil {
			return fmt.Errorf("printing what was ground: %w", err)
		}
	}
	m.at = m.at.Add(time.Duration(20+m.chance.IntN(80)) * time.Hour)
	m.mill.Cool()
	m.charges, m.session, m.kept, m.into = 0, 1+m.chance.IntN(4), 0, ""
	return nil
}

// records works until so many runs are in the book.
func (m *maker) records(n int) error {
	for tries := 0; len(m.yields) < n; tries++ {
		if tries > 3*n+20 {
			return fmt.Errorf("only %d of %d records were taken in: %v", len(m.yields), n, m.refused)
		}
		if m.charges >= m.session {
			if err := m.day(); err != nil {
				return err
			}
		}
		if err := m.charge(m.practice(true)); err != nil {
			return err
		}
	}
	return nil
}

// charge grinds one and writes it down.
func (m *maker) charge(set outside.Setting) error {
	ground := m.begin(set)
	rest := 0.0
	if m.charges > 0 {
		rest = math.Max(60, m.mill.Rest*math.Exp(0.2*m.chance.NormFloat64()))
		m.stand(rest)
		if m.odds(m.habits.rest) {
			ground.RestBefore = known(60 * math.Round(rest/60))
		}
	}
	if m.odds(m.habits.wallBefore) {
		ground.WallBefore = known(m.warmth(m.mill.Wall()))
	}
	gave := m.run(set)
	m.read(&ground, gave)
	m.charges++
	return m.enter(ground, set)
}

// begin is the record of a setting before its run.
func (m *maker) begin(set outside.Setting) shop.Ground {
	g := shop.Ground{Mill: millName, From: scrapLot, Into: m.into, Charge: set.Charge, Run: set.Time}
	if m.mill.Face.Levels > 0 {
		level := set.Level
		g.Level = &level
	}
	return g
}

func (m *maker) stand(rest float64) {
	m.mill.Stand(rest)
	m.at = m.at.Add(time.Duration(rest) * time.Second)
}

// run grinds for about the time that will be written down.
func (m *maker) run(set outside.Setting) outside.Gave {
	real := set
	real.Time += 2 * m.chance.NormFloat64()
	if m.mill.Has(outside.Watch) {
		real.Time += 3 + 6*m.chance.NormFloat64()
	}
	real.Time = math.Max(5, real.Time)
	real.Charge += 0.3 * m.digit * m.chance.NormFloat64()
	g := m.mill.Run(real)
	m.at = m.at.Add(time.Duration(real.Time) * time.Second)
	return g
}

// read takes the readings the maker takes.
func (m *maker) read(g *shop.Ground, gave outside.Gave) {
	g.Stalled = gave.Stalled
	if gave.Stalled {
		g.Run = math.Max(5, math.Round(gave.Time/5)*5)
	}
	g.Product = known(m.weigh(gave.Product))
	last := m.charges+1 >= m.session
	switch {
	case last && m.odds(0.3): // brushed out
		g.Left, g.Swept = known(0), known(m.weigh(m.mill.Sweep()))
	case m.odds(m.habits.left): // what can be shaken out and goes back in
		g.Left = known(m.weigh(gave.Left * 0.97))
	case last && m.odds(0.2):
		m.mill.Brush()
	}
	if m.odds(m.habits.wallAfter) {
		g.WallAfter = known(m.warmth(m.mill.Shown(gave.Wall)))
	}
	if m.odds(m.habits.charge) && felt(gave) {
		g.ChargeAfter = known(m.warmth(gave.Charge - inside))
	}
	if m.odds(m.habits.energy) {
		g.Energy = known(m.metered(gave.Energy))
	}
	if m.odds(m.habits.room) {
		g.Room = known(m.mill.Face.Room)
	}
}

// felt is whether enough is left to hold a thermometer into.
func felt(g outside.Gave) bool { return !g.Stalled && g.Loose >= 0.003 }

// enter writes a run down, now and then with a slip of the pen. What the shop
// does not take, or asks about, is looked at again and put right.
func (m *maker) enter(g shop.Ground, set outside.Setting) error {
	if m.chance.IntN(slipEvery) == 0 && !m.sure {
		wrong, s := m.slipped(g)
		if m.write(&wrong) == nil {
			id := m.state.Newest().ID
			if len(m.state.AsksOf(id)) == 0 {
				s.record = id
				m.slips = append(m.slips, s)
				m.book(wrong, set)
				return nil
			}
			m.slips = append(m.slips, s)
			return m.correct(id, g, set)
		}
		m.slips = append(m.slips, s)
	}
	m.honest++
	if err := m.write(&g); err != nil {
		m.refused = append(m.refused, err.Error())
		return nil
	}
	id := m.state.Newest().ID
	m.book(g, set)
	if asks := m.state.AsksOf(id); len(asks) > 0 {
		m.doubted = append(m.doubted, fmt.Sprintf("%s of %s: %g against %g", asks[0].Code, asks[0].Field, asks[0].Value, asks[0].Bound))
		return m.write(&shop.Confirmed{Record: id})
	}
	return nil
}

// correct puts a slip right that was asked about.
func (m *maker) correct(id shop.RecordID, g shop.Ground, set outside.Setting) error {
	next, err := m.state.With(shop.Record{At: m.at, NotedAt: m.at, Corrects: id, Body: &g})
	if err != nil {
		return fmt.Errorf("correcting record %d: %w", id, err)
	}
	m.state = next
	m.book(g, set)
	if len(m.state.AsksOf(id)) > 0 {
		return m.write(&shop.Confirmed{Record: id})
	}
	return nil
}

// book remembers what the pencil rule and the next record need.
func (m *maker) book(g shop.Ground, set outside.Setting) {
	made, ok := m.state.Newest().Body.(*shop.Ground)
	if ok {
		m.into = made.Into
	}
	if lot, ok := m.state.Lot(m.into); ok {
		m.kept = lot.Mass
	}
	m.scrap = append(m.scrap, m.mill.Scrap())
	if g.Stalled {
		return
	}
	m.yields = append(m.yields, *g.Product/g.Charge)
	m.ran = append(m.ran, set)
}

// slipped is a record with one number wrong.
func (m *maker) slipped(g shop.Ground) (shop.Ground, slip) {
	s := slip{field: "product_kg", what: "a digit lost"}
	factor := 0.1
	switch m.chance.IntN(5) {
	case 0:
		s.what, factor = "ten times too much", 10
	case 1:
		s.what, factor = "grams for kilograms", 1000
	}
	if m.odds(0.4) {
		s.field = "charge_kg"
		g.Charge *= factor
		return g, s
	}
	g.Product = known(*g.Product * factor)
	return g, s
}
