package exposure

import (
	"testing"

	"hopperful/internal/checkrow"
)

func one(v float64, err error) ([]float64, error) { return []float64{v}, err }

func tasks(in checkrow.Inputs) []Task {
	var all []Task
	times := in.List("T")
	for k, l := range in.List("L") {
		all = append(all, Task{l, times[k]})
	}
	return all
}

func scheme(in checkrow.Inputs) Scheme {
	if in.Word("scheme") == "OSHA" {
		return OSHA1910
	}
	return NIOSH98
}

func TestChecks(t *testing.T) {
	t.Parallel()
	checkrow.Run(t, "checks.csv", map[string]checkrow.Func{
		"DayLevel":  func(in checkrow.Inputs) ([]float64, error) { return one(DayLevel(tasks(in)...)) },
		"WeekLevel": func(in checkrow.Inputs) ([]float64, error) { return one(WeekLevel(in.List("L")...)) },
		"TimeLeft": func(in checkrow.Inputs) ([]float64, error) {
			return one(TimeLeft(in.Num("level"), in.Num("limit"), tasks(in)...))
		},
		"Add": func(in checkrow.Inputs) ([]float64, error) { return one(Add(in.List("L")...)) },
		"WithoutBackground": func(in checkrow.Inputs) ([]float64, error) {
			return one(WithoutBackground(in.Num("both"), in.Num("background")))
		},
		"AllowedTime": func(in checkrow.Inputs) ([]float64, error) {
			v, err := AllowedTime(scheme(in), in.Num("L"))
			return []float64{v / 3600}, err
		},
		"Dose":         func(in checkrow.Inputs) ([]float64, error) { return one(Dose(scheme(in), tasks(in)...)) },
		"AverageLevel": func(in checkrow.Inputs) ([]float64, error) { return one(AverageLevel(scheme(in), in.Num("D"))) },
		"LayerDepth":   func(in checkrow.Inputs) ([]float64, error) { return one(LayerDepth(in.Num("bulk"))) },
		"LayerHazard": func(in checkrow.Inputs) ([]float64, error) {
			yes, err := LayerHazard(in.Num("bulk"), in.Num("depth"), in.Num("area"), in.Num("floor"))
			if yes {
				return []float64{1}, err
			}
			return []float64{0}, err
		},
		"LayerCloud": func(in checkrow.Inputs) ([]float64, error) {
			return one(LayerCloud(in.Num("bulk"), in.Num("h"), in.Num("share"), in.Num("H")))
		},
		"DustClass": func(in checkrow.Inputs) ([]float64, error) {
			c, err := DustClass(in.Num("kst"))
			return []float64{float64(c)}, err
		},
	})
}
