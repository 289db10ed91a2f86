package heat

import (
	"testing"

	"hopperful/internal/checkrow"
)

func one(v float64, err error) ([]float64, error) { return []float64{v}, err }

func two(a, b float64, err error) ([]float64, error) { return []float64{a, b}, err }

func TestChecks(t *testing.T) {
	t.Parallel()
	funcs := map[string]checkrow.Func{}
	for _, part := range []map[string]checkrow.Func{potRows, airRows, dutyRows} {
		for name, f := range part {
			funcs[name] = f
		}
	}
	checkrow.Run(t, "checks.csv", funcs)
}

const room = 293.15

// rowPot is the pot of the two-node table and its state after t from the room.
func rowPot(in checkrow.Inputs) (Pot, State, error) {
	p := Pot{Wall: 1500, Exchange: 2, Loss: in.Num("UA"), ToCharge: 0.8, SpecificHeat: 1800}
	s := State{room, room}
	err := p.Step(&s, &Account{}, Span{Time: in.Num("t"), Power: 150, From: 0.2, To: 0.2, Room: room})
	return p, s, err
}

var potRows = map[string]checkrow.Func{
	"Pot": func(in checkrow.Inputs) ([]float64, error) {
		p, s, err := rowPot(in)
		return []float64{s.Wall - room, s.Charge - room, p.Stored(s, 0.2, room)}, err
	},
	"PotFine": func(in checkrow.Inputs) ([]float64, error) {
		_, s, err := rowPot(in)
		return []float64{s.Wall - room, s.Charge - room}, err
	},
	"PotRun": func(in checkrow.Inputs) ([]float64, error) {
		p := Pot{Wall: 1500, Exchange: 3, Loss: 0.8, ToCharge: 0.9, SpecificHeat: 1500}
		s := State{298.15, 303.15}
		n := int(in.Num("steps"))
		c := &Course{}
		for k := 1; k <= n; k++ {
			t := 200 * float64(k) / float64(n)
			c.Time, c.Held, c.Energy = append(c.Time, t), append(c.Held, 0.1-0.0004*t), append(c.Energy, 200*t)
		}
		_, err := p.Follow(&s, &Account{}, 0.1, room, c)
		return []float64{s.Wall, s.Charge}, err
	},
	"RestUntil": func(in checkrow.Inputs) ([]float64, error) {
		return one(RestUntil(Pot{Wall: 1500, Loss: 0.75, SpecificHeat: 1800}, in.Num("wall"), in.Num("target"), in.Num("room"), in.Num("lid")))
	},
	"MixTemperature": func(in checkrow.Inputs) ([]float64, error) {
		return one(MixTemperature(in.Num("m1"), in.Num("t1"), in.Num("m2"), in.Num("t2")))
	},
	"WallCapacity": func(in checkrow.Inputs) ([]float64, error) {
		var parts []Part
		for k, m := range in.List("mass") {
			parts = append(parts, Part{m, in.List("c")[k]})
		}
		return one(WallCapacity(parts...))
	},
}

const ambient = 298.15

var airRows = map[string]checkrow.Func{
	"NusseltPlate": func(in checkrow.Inputs) ([]float64, error) { return one(NusseltPlate(in.Num("Ra"), in.Num("Pr"))) },
	"NusseltLid":   func(in checkrow.Inputs) ([]float64, error) { return one(NusseltLid(in.Num("Ra"))) },
	"Film": func(in checkrow.Inputs) ([]float64, error) {
		hot := ambient + in.Num("dT")
		ra, err := Rayleigh(hot, ambient, 0.15)
		if err != nil {
			return nil, err
		}
		full, err := film(hot, ambient, 0.15, NusseltPlate)
		return []float64{ra, full}, err
	},
	"Radiation": func(in checkrow.Inputs) ([]float64, error) {
		return one(RadiationCoefficient(ambient+in.Num("dT"), ambient, in.Num("e")))
	},
	"LossConductance": func(in checkrow.Inputs) ([]float64, error) {
		return one(LossConductance(Vessel{in.Num("D"), in.Num("L"), in.Num("e")}, ambient+in.Num("dT"), ambient))
	},
}

var dutyRows = map[string]checkrow.Func{
	"CycleLoad": func(in checkrow.Inputs) ([]float64, error) {
		var cycle []Load
		for k, t := range in.List("t") {
			cycle = append(cycle, Load{t, in.List("P")[k]})
		}
		return two(CycleLoad(cycle...))
	},
}
