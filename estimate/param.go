package estimate

// Param numbers the uncertain parameters of a mill, its screen and the
// material in it, in the order a draw holds them.
type Param int

// The parameters. Units are SI; the book ranges stand in [Prior].
const (
	BreakRate      Param = iota // k_E of the reference polymer at 10 mm [kg/J]
	Toughness                   // what the polymer divides k_E by [1]
	SizeExponent                // α, how much faster large pieces break [1]
	FineShare                   // φ, share of fine debris [1]
	FineSlope                   // γ, exponent of fine debris [1]
	CoarseSlope                 // β, exponent of coarse debris [1]
	RotorReach                  // µ, piece size above which breaking slows [m]
	RotorSharpness              // Λ, how sharply it does [1]
	Discharge                   // D₀, rate at which fine powder leaves an all-open screen [1/s]
	Hole                        // of the screen [m]
	OpenShare                   // of the screen [1]
	HoldMass                    // charge below which the rotor finds little to hit [kg]
	PowerScale                  // electrical power over the nominal one, all levels together [1]
	IdleShare                   // of it drawn by the empty mill [1]
	HeatShare                   // η, share of the net power that warms the charge [1]
	Film                        // heat transfer between charge and wall [W/(m² K)]
	WallCapacity                // of pot, plate and lid [J/K]
	WallLoss                    // wall to room, lid closed [W/K]
	LidFactor                   // wall loss with the lid open over closed [1]
	SolidDensity                // of the polymer [kg/m³]
	SpecificHeat                // of the polymer, solid [J/(kg K)]
	Softening                   // temperature at which the polymer softens [K]
	ScrapPacking                // bulk density of the charge over solid density [1]
	GrainBulk                   // bulk density of the regrind [kg/m³]
	PieceShare                  // typical piece over largest piece [1]
	Dust                        // share of a charge lost as dust and spill [1]
	StallShift                  // how much readier this mill stalls than the book's [1, log odds]
	Purge                       // purged and spilled at the printer, over the print's mass [1]
	StartUp                     // spent on getting started, over the print's mass [1]
	Handling                    // lost in pouring, cleaning, weighing, over the print's mass [1]
	PrintScale                  // the print's true volume over the one read from its file [1]
	Noise                       // at the operator's ear [dB(A)]
	Hindrance                   // p of (1 − x/a)^p, how much more the sheet hinders large grains [1]
	paramCount
)

// Params is how many parameters a draw holds.
const Params = int(paramCount)

// Beliefs is a belief for every parameter.
type Beliefs [paramCount]Belief

// List returns the beliefs in the order of a draw.
func (b *Beliefs) List() []Belief { return b[:] }

// Medians is the row in which every parameter has its median.
func (b *Beliefs) Medians() []float64 {
	row := make([]float64, Params)
	for p := range b {
		row[p] = b[p].Median
	}
	return row
}
