package consumption

import (
	"math"

	"hopperful/fact"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// Of turns a need into explained numbers: the plastic in the part, its mass
// for the need's polymer, printing time, mean and peak flow. What is not known
// is left out; without a polymer a volume has no mass.
func Of(table *polymer.Table, need shop.Need) ([]figure.Figure, error) {
	var all []figure.Figure
	basis := figure.Reckoned
	if need.From == "typed" {
		basis = figure.Entered
	}
	add := func(key, name string, kind quantity.Kind, v *float64) {
		if v != nil {
			f := figure.Exact(key, name, kind, *v, basis)
			f.How, f.About = takenOf(need)
			all = append(all, f)
		}
	}
	if need.Volume != nil {
		all = append(all, Plastic(need, basis))
	}
	if need.Mass != nil {
		add("mass", "need.part_mass", quantity.Mass, need.Mass)
	} else if need.Volume != nil && need.Polymer != "" {
		m, err := PartMass(table, need, all[0])
		if err != nil {
			return nil, err
		}
		all = append(all, m)
	}
	add("print_time", "need.print_time", quantity.Duration, need.Time)
	add("mean_flow", "need.mean_flow", quantity.VolumeFlow, need.MeanFlow)
	add("peak_flow", "need.peak_flow", quantity.VolumeFlow, need.PeakFlow)
	return all, nil
}

// Plastic is the need's volume with the range of its reading.
func Plastic(need shop.Need, basis figure.Basis) figure.Figure {
	f := figure.Exact("volume", "need.volume", quantity.Volume, *need.Volume, basis)
	f.How, f.About = takenOf(need)
	if need.VolumeLo != nil {
		f.Low = *need.VolumeLo
	}
	if need.VolumeHi != nil {
		f.High = *need.VolumeHi
	}
	return f
}

// PartMass is volume times density. The two ranges are independent, so their
// half-widths on a log scale add as squares, which is exact for log-normal
// spreads (own derivation).
func PartMass(table *polymer.Table, need shop.Need, volume figure.Figure) (figure.Figure, error) {
	p, err := table.Find(need.Polymer)
	if err != nil {
		return figure.Figure{}, err
	}
	v, err := p.Value(polymer.Density)
	if err != nil {
		return figure.Figure{}, err
	}
	if volume.Low <= 0 {
		return figure.Figure{}, noPlastic(need)
	}
	density := v.Figure()
	m := figure.Exact("mass", "need.part_mass", quantity.Mass, volume.Value*density.Value, figure.Reckoned)
	down := math.Hypot(math.Log(volume.Value/volume.Low), math.Log(density.Value/density.Low))
	up := math.Hypot(math.Log(volume.High/volume.Value), math.Log(density.High/density.Value))
	m.Low, m.High = m.Value*math.Exp(-down), m.Value*math.Exp(up)
	return m.From("volume × density", volume, density).Cite("own derivation", ""), nil
}

func noPlastic(need shop.Need) error {
	return shop.Refuse(shop.Invalid, "volume_m3", fact.Say("need.no_plastic", fact.Name("name", need.Name)), fact.Say("need.check_file"))
}

// Together adds up masses of one polymer. Their densities err the same way, so
// the ends of their ranges are added as they are.
func Together(masses []figure.Figure) figure.Figure {
	sum := figure.Exact("total_mass", "need.total_mass", quantity.Mass, 0, figure.Reckoned)
	for _, m := range masses {
		sum.Value += m.Value
		sum.Low += m.Low
		sum.High += m.High
	}
	return sum.From("how.sum_of_parts", masses...).Cite("own derivation", "")
}
