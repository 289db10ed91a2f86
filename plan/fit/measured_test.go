package fit

import (
	"math"

	"hopperful/internal/checkrow"
	"hopperful/polymer"
	"hopperful/process/melt"
)

// pressureOf is the pressure the table's law asks of a polymer, at the middle of every range.
func pressureOf(in checkrow.Inputs, kelvin float64) (float64, error) {
	p, err := polymer.Find(in.Word("polymer"))
	if err != nil {
		return 0, err
	}
	law, err := LawOf(p, kelvin)
	if err != nil {
		return 0, err
	}
	c, err := law.Curve(kelvin, 1)
	if err != nil {
		return 0, err
	}
	bore := in.Num("bore")
	z := melt.Nozzle{Bore: bore, Land: 2 * bore, Entry: 4 * bore, Taper: 2.6 * bore, Losses: melt.Span{Low: 2.19, High: 2.19}}
	d, err := melt.NozzleDrop(c, z, in.Num("flow"))
	return d.Total.High, err
}

// pressureSlope is how the logarithm of the pressure falls with each kelvin.
func pressureSlope(in checkrow.Inputs) ([]float64, error) {
	at := in.Num("t")
	a, err := pressureOf(in, at-5)
	if err != nil {
		return nil, err
	}
	b, err := pressureOf(in, at+5)
	return []float64{math.Log(b/a) / 10}, err
}

func nozzlePressure(in checkrow.Inputs) ([]float64, error) {
	v, err := pressureOf(in, in.Num("t"))
	return []float64{v}, err
}
