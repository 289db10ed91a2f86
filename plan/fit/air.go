package fit

import (
	"math"

	"hopperful/polymer"
	"hopperful/process/moisture"
	"hopperful/shop"
)

// What a dryer is taken to be where nobody said. Judgement.
const (
	deskAir     = 0.01         // air a food dehydrator blows through the granulate [m³/s]
	DryAirFlow  = 0.003        // air of a dry-air dryer [m³/s]
	DryDew      = 273.15 - 30  // its dew point [K]
	Desiccated  = 0.1          // relative humidity a fresh desiccant keeps [1]
	UsualBed    = 0.02         // depth of a heap on a tray [m]
	AtReference = 273.15 + 50. // temperature the diffusivities stand at [K]
)

// Air is the room's and a dryer's setting.
type Air struct {
	Way         shop.Way
	Temperature float64
	Dew         *float64 // of a dry-air dryer
	Flow        *float64 // through the granulate
	Humidity    *float64 // of a desiccant box
	Room, Moist float64  // temperature and humidity of the room
}

// Dryer is the air around the granulate.
func (a Air) Dryer() (moisture.Dryer, error) {
	vapour, err := moisture.VapourPressure(a.Room, a.Moist)
	if err != nil {
		return moisture.Dryer{}, err
	}
	switch a.Way {
	case shop.Dehydrator:
		return moisture.NewDehydrator(a.Temperature, vapour, or(a.Flow, deskAir))
	case shop.DesiccantBox:
		return moisture.NewDesiccantBox(a.Temperature, or(a.Humidity, Desiccated))
	case shop.DryAir:
		return moisture.NewDryAir(a.Temperature, or(a.Dew, DryDew), or(a.Flow, DryAirFlow))
	}
	return moisture.NewOven(a.Temperature, vapour)
}

func or(v *float64, usual float64) float64 {
	if v == nil {
		return usual
	}
	return *v
}

// sorptionOf is how much water the material takes up, in a draw.
func sorptionOf(row []float64) moisture.Sorption {
	room := math.Min(math.Max(row[fWater], 1e-6), 0.14)
	return moisture.Sorption{Room: room, Saturated: math.Min(room*math.Max(row[fSaturation], leastSaturation), 0.3)}
}

// plasticOf is what drying needs to know of the material, in a draw; it goes into
// the dryer as warm as the room.
func plasticOf(row []float64, softening, room float64) moisture.Plastic {
	s := sorptionOf(row)
	return moisture.Plastic{Density: row[fSolid], Saturated: s.Saturated, Room: s.Room,
		Diffusivity: math.Min(math.Max(row[fDiffusivity], 1e-16), 1e-7), Reference: AtReference,
		Energy: math.Min(math.Max(row[fEnergy], 0), 200e3), Softening: softening, Heat: row[fSpecific], Comes: room}
}

// grainsOf are the grains of a draw: one size in the middle, and the scatter of
// the rates that their sizes (log-normal, from the mean and the size that 95 % are
// finer than) and all other differences make together.
func grainsOf(row []float64) (moisture.Grains, error) {
	const to95 = 1.6448536269514722
	sizes := 2 * math.Log(1/row[fMean]) / to95 // the rate goes with the square of the size
	mean := math.Min(math.Max(row[fMean]*row[fTop], 1e-6), 0.1)
	return moisture.Uneven(moisture.Grains{Shape: moisture.Sphere, Size: []float64{mean}, Share: []float64{1}}, math.Min(math.Hypot(sizes, row[fUneven]), 3))
}

// neverSoft stands in for the softening of what is known not to have fused, whatever the books say: it lies in the room,
// or was dried as it was [K]. It is the hottest that drying is reckoned for.
const neverSoft = 673.15

// softening is the temperature at which the polymer's grains stick together.
func softening(p polymer.Polymer) float64 {
	if v, err := p.Value(polymer.Softening); err == nil {
		return v.Value
	}
	return 331.15 // as the softest of the common plastics; judgement
}

// water is the water in the lot now, in a draw: at rest with the room's air,
// less what the last drying took, with what it took up since.
func (j *job) water(row []float64) (float64, error) {
	w := j.wet(row)
	dried, ok := j.state.DriedLast(j.lot.ID)
	if !ok {
		return w, nil
	}
	w, err := j.after(row, w, dried.Body)
	if err != nil {
		return 0, err
	}
	since := math.Max(0, j.req.Now.Sub(dried.At).Seconds()-dried.Body.Time) * row[fOpen]
	if since == 0 {
		return w, nil
	}
	temperature, humidity := j.room()
	room, err := moisture.NewRoom(temperature, humidity)
	if err != nil {
		return 0, err
	}
	grains, err := grainsOf(row)
	if err != nil {
		return 0, err
	}
	return moisture.WaterAfter(plasticOf(row, neverSoft, temperature), grains, room, moisture.Stay{Now: w, Time: since})
}

// after is the water a drying leaves. A heap dries as slowly as its grains and
// its depth together, so the time is shared between the two.
func (j *job) after(row []float64, w float64, d *shop.Dried) (float64, error) {
	temperature, humidity := j.room()
	dryer, err := Air{Way: d.Way, Temperature: d.Temperature, Dew: d.DewPoint, Room: temperature, Moist: humidity}.Dryer()
	if err != nil {
		return w, nil // a dryer that cannot be says nothing of the lot
	}
	p := plasticOf(row, neverSoft, temperature)
	g, err := grainsOf(row)
	if err != nil {
		return 0, err
	}
	bed := moisture.Bed{Mass: math.Max(j.lot.Mass, 0.01), Depth: or(d.Bed, UsualBed), Density: math.Min(math.Max(row[fBulk], 20), 0.9*row[fSolid])}
	warm, err := moisture.WarmingLoss(p, dryer, bed)
	if err != nil {
		return 0, err
	}
	time := math.Max(0, d.Time-warm)
	if dryer.Flow == 0 {
		const most = 0.9
		heap, err := moisture.BedTime(p, bed, d.Temperature, most)
		if err != nil {
			return 0, err
		}
		diffusivity, err := moisture.DiffusivityAt(p, d.Temperature)
		if err != nil {
			return 0, err
		}
		grain, err := moisture.LotTime(g, moisture.Motion{Diffusivity: diffusivity, Transfer: math.Inf(1)}, most)
		if err != nil {
			return 0, err
		}
		time *= grain / (grain + heap)
	}
	return moisture.WaterAfter(p, g, dryer, moisture.Stay{Now: w, Time: time})
}

// believeDry takes weighings before and after drying as readings of how much
// water there was and how fast it left.
func (j *job) believeDry() error {
	for _, e := range j.state.Dryings(j.lot.ID) {
		if e.Body.In == nil || e.Body.Out == nil {
			continue
		}
		loss, err := moisture.LossOnDrying(moisture.Weighing{Before: *e.Body.In, After: *e.Body.Out, Resolution: j.state.Resolution(*e.Body.In)})
		if err != nil || !loss.Seen {
			continue // the scale could not see it
		}
		if err := j.learnDrying(e, loss.Wet); err != nil {
			return err
		}
	}
	return nil
}

// learnDrying takes one loss: where the books' water could not have given it,
// there was more water; else the diffusivity that explains it.
func (j *job) learnDrying(e shop.Entry[*shop.Dried], loss float64) error {
	row := j.medians()
	_, humidity := j.room()
	wet := j.wet(row)
	row[fDiffusivity] *= 1e3
	dry, err := j.after(row, wet, e.Body)
	if err != nil {
		return err
	}
	if loss > 0.95*(wet-dry) {
		if humidity > 0.05 {
			j.beliefs.narrow(fWater, (loss*1.05+dry)*0.5/humidity, 0.3, int64(e.ID)) // what stayed in is not known; judgement
		}
		return nil
	}
	lo, hi := math.Log(1e-3), math.Log(1e3)
	for range 40 {
		mid := (lo + hi) / 2
		row[fDiffusivity] = j.beliefs[fDiffusivity].Median * math.Exp(mid)
		left, err := j.after(row, wet, e.Body)
		if err != nil {
			return err
		}
		if wet-left < loss {
			lo = mid
		} else {
			hi = mid
		}
	}
	j.beliefs.narrow(fDiffusivity, row[fDiffusivity], 0.6, int64(e.ID)) // the water it started with is a guess; judgement
	return nil
}
