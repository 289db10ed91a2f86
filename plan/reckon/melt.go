package reckon

import (
	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/fit"
	"hopperful/polymer"
	"hopperful/process/melt"
	"hopperful/process/screw"
	"hopperful/quantity"
	"hopperful/shop"
)

// meltInputs are the melt: material, temperature, and how it differs from the
// books.
var meltInputs = []Input{
	anyMaterial(),
	property("temperature", polymer.PrintTemperature, fit.DefaultMelt),
	number("runny", quantity.Number, 1, 0.01, 100),
}

// nozzleInputs are cone and land.
var nozzleInputs = []Input{
	number("bore", quantity.Length, 1.2e-3, 1e-4, 0.02),
	number("land", quantity.Length, 2.4e-3, 0, 0.05),
	number("entry", quantity.Length, 5e-3, 1e-4, 0.05),
	number("taper", quantity.Length, 3.5e-3, 0, 0.1),
	number("flow", quantity.VolumeFlow, 15e-9, 1e-12, 1e-5),
}

var meltTopics = []Topic{
	{Key: "viscosity", Model: "melt",
		Inputs: join(meltInputs, []Input{number("rate", quantity.Rate, 100, 1e-3, 1e6).named("given.shear_rate")}), reckon: reckonViscosity},
	{Key: "melt-flow", Model: "melt",
		Inputs: []Input{anyMaterial(), number("test_temperature", quantity.Temperature, 463.15, 373.15, 673.15),
			number("load", quantity.Mass, 2.16, 0.3, 25), number("cut", quantity.Mass, 0.3e-3, 1e-6, 0.1),
			number("time", quantity.Duration, 30, 0.5, 3600).named("given.cut_time"), number("melt_density", quantity.Density, 1100, 600, 2000)}, reckon: reckonMeltFlow},
	{Key: "nozzle", Model: "melt",
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
		return melt.Curve{}, shop.Refused(shop.Invalid, "temperature", &melt.TooHotError{Temperature: temperature, Ceiling: ceiling.Value})
	}
	law, err := fit.LawOf(p, usualMelt(p))
	if err != nil {
		return melt.Curve{}, err
	}
	r.out.Spoilers = nil // the law that was asked last
	about := []fact.Fact{fact.Word("law", law.How)}
	if law.Lender != "" {
		about = append(about, polymer.LenderWord("lender", law.Lender), fact.Name("material", p.Name))
	}
	if law.Guess() {
		about = append(about, fact.Word("guess", "basis.guess"))
	}
	r.note(fact.Say("reckon.flow_law", about...))
	return law.Curve(temperature, runny)
}

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
	r.add("viscosity", quantity.Viscosity, eta, "material", "temperature", "runny", "rate")
	r.add("stress", quantity.Pressure, stress, "rate")
	r.add("exponent", quantity.Number, n, "rate")
	r.answer(fact.Say("reckon.viscosity", fact.Set("temperature", quantity.Temperature, r.num("temperature")), fact.Set("rate", quantity.Rate, r.num("rate")), fact.About("viscosity", quantity.Viscosity, eta)))
	return r.plot(answer.Chart{Key: "viscosity", XName: "axis.shear_rate", YName: "axis.viscosity", XKind: quantity.Rate, YKind: quantity.Viscosity, LogX: true},
		1, 1e4, c.Viscosity)
}

func reckonMeltFlow(r *reckoning) error {
	rate, err := melt.CutRate(r.num("cut"), r.num("time"))
	if err != nil {
		return err
	}
	r.add("rate", quantity.MeltFlow, rate, "cut", "time").Cite("from memory", "ISO 1133")
	pressure, err := melt.LoadPressure(r.num("load"))
	if err != nil {
		return err
	}
	r.add("pressure", quantity.Pressure, pressure, "load")
	another := r.tableRate()
	model, err := r.booksRate(r.num("test_temperature"), r.num("load"))
	if err != nil {
		return err
	}
	r.add("books", quantity.MeltFlow, model, "test_temperature", "load", "melt_density")
	f, err := melt.Thinning(rate, model)
	if err != nil {
		return err
	}
	r.add("runny", quantity.Number, f, "cut", "time")
	r.answer(fact.Say("reckon.melt_flow", fact.About("rate", quantity.MeltFlow, rate), fact.Set("temperature", quantity.Temperature, r.num("test_temperature")), fact.Set("load", quantity.Mass, r.num("load")),
		fact.About("times", quantity.Number, f), fact.About("books", quantity.MeltFlow, model), fact.Name("material", r.out.Words["material"])))
	r.note(fact.Say("reckon.use_factor"))
	if !another.Empty() {
		r.note(another)
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
func (r *reckoning) tableRate() fact.Saying {
	p, err := r.polymer()
	if err != nil {
		return fact.Saying{}
	}
	v, err := p.Value(polymer.MeltFlowRate)
	if err != nil {
		return fact.Saying{}
	}
	temperature, load := fit.FlowTestOf(v, usualMelt(p))
	there := fact.Parts("law")
	if law, err := r.booksRate(temperature, load); err == nil {
		there = fact.About("law", quantity.MeltFlow, law)
	}
	return fact.Say("reckon.table_rate", fact.Set("rate", quantity.MeltFlow, v.Value), fact.Name("material", r.out.Words["material"]), fact.Set("low", quantity.MeltFlow, v.Low),
		fact.Set("high", quantity.MeltFlow, v.High), fact.Set("temperature", quantity.Temperature, temperature), fact.Set("load", quantity.Mass, load), there)
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
func (r *reckoning) addPressure(key string, c melt.Curve, z melt.Nozzle) (made, melt.Drop, error) {
	usual, drop, err := nozzlePressure(c, z, r.num("flow"))
	if err != nil {
		return made{}, drop, err
	}
	f := r.add(key, quantity.Pressure, usual, "bore", "land", "entry", "taper", "flow", "temperature", "runny").
		Cite("judgement", "loss at the mouth; two nozzles and Bagley replace it")
	f.Low, f.High = drop.Total.Low, drop.Total.High
	return f, drop, nil
}

func reckonNozzle(r *reckoning) error {
	c, err := r.curve(r.num("temperature"), r.num("runny"))
	if err != nil {
		return err
	}
	z := r.nozzle()
	if z.Entry < z.Bore {
		return r.bad("entry", fact.Say("reckon.narrow_cone"))
	}
	f, d, err := r.addPressure("pressure", c, z)
	if err != nil {
		return err
	}
	r.add("cone", quantity.Pressure, d.Cone, "entry", "taper")
	r.add("land_drop", quantity.Pressure, d.Land, "land", "bore")
	r.ranged("mouth", quantity.Pressure, d.Entrance.Low, d.Entrance.High, "bore").Cite("judgement", "two nozzles and Bagley replace it")
	r.add("wall_stress", quantity.Pressure, d.WallStress, "bore")
	r.add("wall_rate", quantity.Rate, d.WallRate, "flow", "bore")
	if s, err := melt.Swell(d.WallStress); err == nil {
		r.ranged("swell", quantity.Number, s.Low, s.High, "bore")
	}
	if d.WallStress > 0.1e6 {
		r.note(fact.Say("reckon.rough_strands"))
	}
	r.answer(fact.Say("reckon.asks_pressure", fact.Figure("pressure", *f.Figure)))
	return r.plot(answer.Chart{Key: "pressure", XName: "axis.melt_flow", YName: "axis.pressure", XKind: quantity.VolumeFlow, YKind: quantity.Pressure},
		r.num("flow")/20, 2*r.num("flow"), func(flow float64) (float64, error) {
			usual, _, err := nozzlePressure(c, z, flow)
			return usual, err
		})
}
