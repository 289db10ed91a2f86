package outside

import (
	"math"
	"math/rand/v2"
)

// Face is what an owner can read off the mill and its papers. SI units.
type Face struct {
	Polymer   string
	Softening float64 // of the polymer, as the books have it [K]
	Chamber   float64 // [m³]
	Rated     float64 // [W]
	Hole      float64 // of the screen [m]
	Open      float64 // share of the sheet
	Wall      float64 // pot, plate and lid [kg]
	Jar       float64 // [m³]
	Levels    int     // 0: no controller
	Rotor     float64 // tip to tip [m]
	Room      float64 // [K]
}

// Setting is how a charge is ground.
type Setting struct {
	Charge float64 // [kg]
	Level  int     // 0: no controller
	Time   float64 // [s]
}

// Mill is an invented mill as it stands: what it is and what is in it.
type Mill struct {
	Face  Face
	Usual Setting // what its maker has settled on
	Rest  float64 // and how long the mill stands between charges then [s]

	odd    [kinds]bool
	t      truth
	s      state
	chance *rand.Rand // nil: every bag and run alike
}

// truth is what nobody can read off it.
type truth struct {
	rate, speedPower float64 // break rate [1/s] at the usual speed and mass, and its power of the speed
	crowd            float64 // power of the mass it falls with
	warm             float64 // K that take it down by e; +Inf: none
	tough            float64 // share of pieces that break at a quarter of the rate
	direct           float64 // share of broken pieces that would pass at once
	wear             float64 // of the rate [1/kg]
	cushion          float64 // held mass above which pieces hit pieces [kg]

	pass    float64 // rate at which fine grains find a hole [1/s]
	smear   float64 // share of the open area lost a kilogram of product, cold
	corner  float64 // mass the dead corner takes [kg]
	spill   float64 // share of what passes that is lost, and
	spillUp float64 // what the square of the speed adds

	s float64 // shape of the dial: 0 straight, else the S's power

	hit            float64 // power into the charge at the usual speed and mass [W]
	idle, windage  float64 // of the empty rotor at full speed: steady torque, cube [W]
	fixed, yield   float64 // electronics [W]; motor efficiency
	share          float64 // of the hit power that warms the charge
	toWall         float64 // of the idle power that warms the wall
	film           float64 // charge to wall [W/K]
	breeze         float64 // heat the air carries out of the charge at full speed [W/K]
	capacity       float64 // of the wall [J/K]
	through        float64 // inner to outer wall [W/K]
	loss, fan, lid float64 // wall to room [W/K], added at full speed, factor when open
	cp             float64 // [J/(kg K)]
	emissivity     float64

	coarse, slope, fines float64 // size of the product over the hole, its RRSB slope, share of fines
	loose, bulk          float64 // density of a charge and of the product in the jar [kg/m³]
	stall, grip          float64 // held mass that stops the rotor at the usual speed [kg], and its power of the speed

	mass, speed float64 // the usual ones that rates are told at
}

// state is what changes.
type state struct {
	pieces, grains [2]float64 // ordinary and tough [kg]
	fine, corner   float64
	charge         float64 // temperatures [K]
	inner, outer   float64
	open           float64 // of the screen, as a share of a clean one
	worn           float64 // share of the rate left
	bag            bag
	inBag          float64    // what is left in the bag [kg]
	newest         [2]float64 // body and fines of the newest product
}

// bag is what the scrap at hand is like against the usual one.
type bag struct{ rate, loose, tough float64 }

// Gave is what a run truly came to.
type Gave struct {
	Product float64 // in the jar [kg]
	Spilt   float64 // lost [kg]
	Left    float64 // in the mill, the dead corner too [kg]
	Loose   float64 // of it, what can be shaken out or felt with a thermometer [kg]
	Energy  float64 // from the socket [J]
	Hottest float64 // charge [K]
	Charge  float64 // at the end [K]
	Wall    float64 // outside, at the end [K]
	Stalled bool
	Fill    float64 // loose volume at the start over the chamber
	Volume  float64 // of the product in the jar [m³]
	D50     float64 // of the product [m]
	Fines   float64 // share of it below half a millimetre
	Time    float64 // really run [s]
}

// Has says whether the mill has an oddity.
func (m *Mill) Has(k Kind) bool { return m.odd[k] }

// Copy is the same mill, to be tried without harm to the first.
func (m *Mill) Copy(chance *rand.Rand) *Mill {
	c := *m
	c.chance = chance
	return &c
}

// Quiet is the mill clean, cold and even: usual bags, no scatter.
func (m *Mill) Quiet() *Mill {
	c := m.Copy(nil)
	c.s = state{open: 1, worn: m.s.worn}
	c.fresh()
	c.Cool()
	return c
}

// Cool lets the mill stand until it is as warm as the room.
func (m *Mill) Cool() { m.s.charge, m.s.inner, m.s.outer = m.Face.Room, m.Face.Room, m.Face.Room }

// Brush opens the screen's holes again.
func (m *Mill) Brush() { m.s.open = 1 }

// Sweep empties the mill and says what came out; the corner keeps a fifth.
func (m *Mill) Sweep() float64 {
	out := m.loose() + 0.8*m.s.corner
	m.s.pieces, m.s.grains, m.s.fine = [2]float64{}, [2]float64{}, 0
	m.s.corner *= 0.2
	m.Brush()
	return out
}

// Blunt takes the break rate down to a share at once.
func (m *Mill) Blunt(share float64) { m.s.worn *= share }

// Holds is what is in the mill [kg].
func (m *Mill) Holds() float64 { return m.loose() + m.s.corner }

func (m *Mill) loose() float64 {
	return m.s.pieces[0] + m.s.pieces[1] + m.s.grains[0] + m.s.grains[1] + m.s.fine
}

// Wall is what the thermometer would show of the outer wall [K].
func (m *Mill) Wall() float64 { return m.Shown(m.s.outer) }

// Shown is what the thermometer makes of a wall temperature [K].
func (m *Mill) Shown(wall float64) float64 {
	return m.Face.Room + m.t.emissivity*(wall-m.Face.Room)
}

// Speed is the rotor's speed at a level, as a share of its fastest.
func (m *Mill) Speed(level int) float64 {
	if m.Face.Levels == 0 {
		return 1
	}
	l := float64(level) / float64(m.Face.Levels)
	if m.t.s == 0 {
		return 0.3 + 0.7*l
	}
	up, down := math.Pow(l, m.t.s), math.Pow(1-l, m.t.s)
	return 0.2 + 0.8*up/(up+down)
}

// scatter is a factor around 1.
func (m *Mill) scatter(spread float64) float64 {
	if m.chance == nil {
		return 1
	}
	return math.Exp(spread * m.chance.NormFloat64())
}

// Scrap is how readily the bag at hand breaks, over the usual one.
func (m *Mill) Scrap() float64 {
	ease := func(tough float64) float64 { return 1 - 0.75*min(tough, 0.8) }
	return m.s.bag.rate * ease(m.t.tough*m.s.bag.tough) / ease(m.t.tough)
}

// fresh opens a new bag of scrap.
func (m *Mill) fresh() {
	m.s.bag = bag{1, 1, 1}
	m.s.inBag = math.Inf(1)
	if m.odd[Bags] && m.chance != nil {
		m.s.bag = bag{m.scatter(0.3), m.scatter(0.15), m.scatter(0.4)}
		m.s.inBag = m.Usual.Charge * (3 + 5*m.chance.Float64())
	}
}
