package reckon

import (
	"fmt"

	"hopperful/answer"
	"hopperful/plan/fit"
	"hopperful/polymer"
	"hopperful/process/melt"
	"hopperful/process/screw"
	"hopperful/quantity"
)

// meltInputs are the melt: material, temperature, and how it differs from the
// books.
var meltInputs = []Input{
	anyMaterial("PLA"),
	property("temperature", polymer.PrintTemperature, fit.DefaultMelt),
	number("runny", "how many times as fast as the books' melt it flows", quantity.Number, 1, 0.01, 100),
}

// nozzleInputs are cone and land.
var nozzleInputs = []Input{
	number("bore", "nozzle bore", quantity.Length, 1.2e-3, 1e-4, 0.02),
	number("land", "length of its straight part", quantity.Length, 2.4e-3, 0, 0.05),
	number("entry", "width where its cone begins", quantity.Length, 5e-3, 1e-4, 0.05),
	number("taper", "length of the cone", quantity.Length, 3.5e-3, 0, 0.1),
	number("flow", "flow of melt", quantity.VolumeFlow, 15e-9, 1e-12, 1e-5),
}

var meltTopics = []Topic{
	{Key: "viscosity", Title: "Viscosity of a melt", Question: "How thick is it at this temperature and shear?", Model: "melt",
		Inputs: join(meltInputs, []Input{number("rate", "shear rate", quantity.Rate, 100, 1e-3, 1e6)}), reckon: reckonViscosity},
	{Key: "melt-flow", Title: "Melt flow rate from timed cuts", Question: "What is my lot's melt flow rate, against the books'?", Model: "melt",
		Inputs: []Input{anyMaterial("PLA"), number("test_temperature", "temperature of the test", quantity.Temperature, 463.15, 373.15, 673.15),
			number("load", "mass on the piston", quantity.Mass, 2.16, 0.3, 25), number("cut", "weight of a cut", quantity.Mass, 0.3e-3, 1e-6, 0.1),
			number("time", "time of a cut", quantity.Duration, 30, 0.5, 3600), number("melt_density", "density of the melt", quantity.Density, 1100, 600, 2000)}, reckon: reckonMeltFlow},
	{Key: "nozzle", Title: "Pressure of a nozzle", Question: "What pressure does this flow ask for?", Model: "melt",
		Inputs: join(meltInputs, nozzleInputs), reckon: reckonNozzle},
}

// curve is the flow curve of the topic's melt, refused above the polymer's
// ceiling.
func (r *reckoning) curve(temperature, runny float64) (melt.Curve, error) {
	p, err := r.polymer()
	if err != nil {
		return melt.Curve{}, err
	}
	if ceiling, err := p.Value(polymer.MeltCeiling); err == nil && temperature > ceiling.Value {
		hot := &melt.TooHotError{Temperature: temperature, Ceiling: ceiling.Value}
		return melt.Curve{}, r.bad("temperature", "%s", answer.Sentence(answer.Capital(hot.Error())))
	}
	law, err := fit.LawOf(p, usualMelt(p))
	if err != nil {
		return melt.Curve{}, err
	}
	r.out.Notes = []string{"Flow law: " + lawNames[law.How] + ". Grades of one polymer differ by a factor of two or more; a melt flow rate of your own lot replaces it."}
	return law.Curve(temperature, runny)
}

// lawNames say which law a polymer's melt is reckoned with.
var lawNames = map[string]string{"law.cross": "Cross–WLF", "law.power": "power law", "law.usual": "a usual curve through the melt flow rate"}

func usualMelt(p polymer.Polymer) float64 {
	if v, err := p.Value(polymer.PrintTemperature); err == nil {
		return v.Value
	}
	return fit.DefaultMelt
}

func reckonViscosity(r *reckoning) error {
	c, err := r.curve(r.num("temperature"), r.num("runny"))
	if err != nil {
		return err
	}
	eta, err := c.Viscosity(r.num("rate"))
	if err != nil {
		return err
	}
	stress, err := c.Stress(r.num("rate"))
	if err != nil {
		return err
	}
	n, err := c.Exponent(r.num("rate"))
	if err != nil {
		return err
	}
	r.add("viscosity", "viscosity", quantity.Viscosity, eta, "flow law at this shear rate", "material", "temperature", "runny", "rate")
	r.add("stress", "shear stress", quantity.Pressure, stress, "viscosity × shear rate", "rate")
	r.add("exponent", "local flow exponent", quantity.Number, n, "d ln stress ÷ d ln rate; 1 does not thin", "rate")
	r.answer("At %s and %s it has %s.", quantity.Temperature.Plain(r.num("temperature")), quantity.Rate.Plain(r.num("rate")), quantity.Viscosity.Rough(eta))
	return r.plot(answer.Chart{Key: "viscosity", Title: "Viscosity over shear rate", XName: "shear rate", YName: "viscosity", XKind: quantity.Rate, YKind: quantity.Viscosity, LogX: true},
		1, 1e4, c.Viscosity)
}

func reckonMeltFlow(r *reckoning) error {
	rate, err := melt.CutRate(r.num("cut"), r.num("time"))
	if err != nil {
		return err
	}
	r.add("rate", "melt flow rate", quantity.MeltFlow, rate, "weight of a cut ÷ its time", "cut", "time").Cite("from memory", "ISO 1133")
	pressure, err := melt.LoadPressure(r.num("load"))
	if err != nil {
		return err
	}
	r.add("pressure", "pressure under the piston", quantity.Pressure, pressure, "load × g ÷ area of the piston", "load")
	another := r.tableRate()
	model, err := r.booksRate(r.num("test_temperature"), r.num("load"))
	if err != nil {
		return err
	}
	r.add("books", "of the books' melt in the same test", quantity.MeltFlow, model, "flow law through the standard's die", "test_temperature", "load", "melt_density")
	f, err := melt.Thinning(rate, model)
	if err != nil {
		return err
	}
	r.add("runny", "times as fast as the books' melt", quantity.Number, f, "measured ÷ books", "cut", "time")
	hot, load := quantity.Temperature.Plain(r.num("test_temperature")), quantity.Mass.Plain(r.num("load"))
	r.answer("%s at %s and %s: %s times the %s that the books' flow law gives %s in this test.", quantity.MeltFlow.Rough(rate),
		hot, load, quantity.Number.Rough(f), quantity.MeltFlow.Rough(model), r.out.Words["material"])
	r.note("Put that factor into the topics viscosity, nozzle and screw.")
	if another != "" {
		r.note("%s", another)
	}
	return nil
}

// booksRate is the melt flow rate the books' flow law gives in a test.
func (r *reckoning) booksRate(temperature, load float64) (float64, error) {
	c, err := r.curve(temperature, 1)
	if err != nil {
		return 0, err
	}
	return melt.ModelMFR(c, melt.Plastometer{Load: load, Density: r.num("melt_density")})
}

// tableRate says which melt flow rate the table of materials has, in which test,
// and what the flow law gives there: at another temperature or load it is another
// number than that of the test reckoned. Empty where the table has none.
func (r *reckoning) tableRate() string {
	p, err := r.polymer()
	if err != nil {
		return ""
	}
	v, err := p.Value(polymer.MeltFlowRate)
	if err != nil {
		return ""
	}
	temperature, load := fit.FlowTestOf(v, usualMelt(p))
	say := fmt.Sprintf("The materials' table has %s for %s (%s to %s) at %s and %s", quantity.MeltFlow.Plain(v.Value), r.out.Words["material"],
		quantity.MeltFlow.Plain(v.Low), quantity.MeltFlow.Plain(v.High), quantity.Temperature.Plain(temperature), quantity.Mass.Plain(load))
	if law, err := r.booksRate(temperature, load); err == nil {
		say += fmt.Sprintf("; its flow law gives %s there", quantity.MeltFlow.Rough(law))
	}
	return say + "."
}

func (r *reckoning) nozzle() melt.Nozzle {
	return melt.Nozzle{Bore: r.num("bore"), Land: r.num("land"), Entry: r.num("entry"), Taper: r.num("taper"), Losses: melt.UsualLosses}
}

// nozzlePressure is the pressure before a nozzle at a flow: with the usual loss at
// its mouth, and over the losses that melts have.
func nozzlePressure(c melt.Curve, z melt.Nozzle, flow float64) (usual float64, drop melt.Drop, err error) {
	z.Losses = melt.UsualLosses
	if drop, err = melt.NozzleDrop(c, z, flow); err != nil {
		return 0, drop, err
	}
	z.Losses = melt.Span{Low: screw.UsualLoss, High: screw.UsualLoss}
	middle, err := melt.NozzleDrop(c, z, flow)
	return middle.Total.High, drop, err
}

// addPressure puts it into the answer.
func (r *reckoning) addPressure(key string, c melt.Curve, z melt.Nozzle) (melt.Drop, error) {
	usual, drop, err := nozzlePressure(c, z, r.num("flow"))
	if err != nil {
		return drop, err
	}
	f := r.add(key, "pressure before the nozzle", quantity.Pressure, usual, "cone + land + loss at the mouth, 2.2 radii of land, 0.6 to 8", "bore", "land", "entry", "taper", "flow", "temperature", "runny").
		Cite("judgement", "loss at the mouth; two nozzles and Bagley replace it")
	f.Low, f.High = drop.Total.Low, drop.Total.High
	return drop, nil
}

func reckonNozzle(r *reckoning) error {
	c, err := r.curve(r.num("temperature"), r.num("runny"))
	if err != nil {
		return err
	}
	z := r.nozzle()
	if z.Entry < z.Bore {
		return r.bad("entry", "The cone begins narrower than the nozzle's bore.")
	}
	d, err := r.addPressure("pressure", c, z)
	if err != nil {
		return err
	}
	r.add("cone", "of it in the cone", quantity.Pressure, d.Cone, "shear along the cone", "entry", "taper")
	r.add("land_drop", "of it in the straight part", quantity.Pressure, d.Land, "shear along the land", "land", "bore")
	r.ranged("mouth", "of it at the mouth", quantity.Pressure, d.Entrance.Low, d.Entrance.High, "0.6 to 8 radii of land", "bore").Cite("judgement", "two nozzles and Bagley replace it")
	r.add("wall_stress", "shear stress at the wall", quantity.Pressure, d.WallStress, "drop × radius ÷ (2 × length)", "bore")
	r.add("wall_rate", "shear rate at the wall", quantity.Rate, d.WallRate, "4Q ÷ (π R³), corrected after Rabinowitsch", "flow", "bore")
	if s, err := melt.Swell(d.WallStress); err == nil {
		r.ranged("swell", "a free strand is wider than the nozzle by a factor", quantity.Number, s.Low, s.High, "after Tanner", "bore")
	}
	if d.WallStress > 0.1e6 {
		r.note("Above 0.1 to 0.3 MPa at the wall strands come out rough (from memory).")
	}
	r.answer("It asks for %s, of which the mouth may be the larger half.", quantity.Pressure.Span(d.Total.Low, d.Total.High))
	return r.plot(answer.Chart{Key: "pressure", Title: "Pressure over flow", XName: "flow of melt", YName: "pressure", XKind: quantity.VolumeFlow, YKind: quantity.Pressure},
		r.num("flow")/20, 2*r.num("flow"), func(flow float64) (float64, error) {
			usual, _, err := nozzlePressure(c, z, flow)
			return usual, err
		})
}
