package identification

import (
	"fmt"
	"math"
	"strings"

	"hopperful/polymer/identify"
	"hopperful/quantity"
)

// A finding is written as people say it, the same at every edge:
//
//	limp70=yes
//	floats water=no
//	floats brine 12% 25°C=yes
//	sticks 120°C=no
//	weighed 12.2g 10cm3 0.1g

// ReadFinding reads a finding. What cannot be read is an error in a short
// sentence; a value that cannot be is a [shop.Error].
func ReadFinding(text string) (identify.Finding, error) {
	name, rest, _ := strings.Cut(strings.TrimSpace(text), " ")
	switch name {
	case "floats":
		return ReadFloat(rest, UsualTemperature)
	case "sticks":
		return ReadSticks(rest)
	case identify.Weighed:
		return readWeighed(rest)
	}
	what, yes, err := answered(text)
	if err != nil {
		return identify.Finding{}, err
	}
	for _, t := range identify.Books().Tests {
		if t.Name == what && (t.Kind == identify.Bench || t.Kind == identify.Look) {
			return identify.Finding{Test: what, Yes: yes}, nil
		}
	}
	return identify.Finding{}, fmt.Errorf("there is no test %q", shortened(what))
}

// Spell writes the finding of a test so that [ReadFinding] reads it again.
func Spell(f identify.Finding) string {
	answer := map[bool]string{true: "=yes", false: "=no"}[f.Yes]
	switch f.Test {
	case "floats":
		return fmt.Sprintf("floats %gg/cm3%s", f.At/1000, answer)
	case "sticks":
		return fmt.Sprintf("sticks %g°C%s", math.Round(10*(f.At-zeroCelsius))/10, answer)
	}
	return f.Test + answer
}

// ReadFloat reads what follows "floats": "water=no", "1.08 g/cm3=yes",
// "brine 12% 25°C=no". A liquid without a temperature is at the one given [K].
func ReadFloat(text string, temperature float64) (identify.Finding, error) {
	what, yes, err := answered(text)
	if err != nil {
		return identify.Finding{}, err
	}
	rho, err := ReadLiquid(what, temperature)
	return identify.Finding{Test: "floats", Yes: yes, At: rho}, err
}

// ReadLiquid reads a liquid's density [kg/m³]: itself, or a name with a strength
// and, where it is not the one given [K], a temperature.
func ReadLiquid(what string, temperature float64) (float64, error) {
	if rho, err := quantity.Density.Parse(what); err == nil {
		if !(rho >= 700 && rho <= 1500) { // what the formula of floating holds for
			return 0, fmt.Errorf("a liquid of %s is out of reach; they lie between 0.7 and 1.5 g/cm³", quantity.Density.Show(rho))
		}
		return rho, nil
	}
	name, rest, _ := strings.Cut(strings.TrimSpace(what), " ")
	liquid, err := identify.FindLiquid(name)
	if err != nil {
		return 0, fmt.Errorf("%w; or give its density, such as 1.08g/cm3", err)
	}
	strength, at, _ := strings.Cut(rest, "%")
	if !strings.Contains(rest, "%") {
		strength, at = "", rest
	}
	if at = strings.TrimSpace(at); at != "" {
		if temperature, err = quantity.Temperature.Parse(at); err != nil {
			return 0, err
		}
	}
	share := 0.0
	switch strength = strings.TrimSpace(strength); {
	case strength != "":
		if share, err = quantity.Share.Parse(strength + "%"); err != nil {
			return 0, err
		}
	case liquid != identify.Water:
		return 0, fmt.Errorf("%s has no strength; write it like %q, by mass", liquid, string(liquid)+" 12%")
	}
	return LiquidDensity(liquid, share, temperature)
}

// ReadSticks reads what follows "sticks": "120 °C=yes".
func ReadSticks(text string) (identify.Finding, error) {
	what, yes, err := answered(text)
	if err != nil {
		return identify.Finding{}, err
	}
	at, err := quantity.Temperature.ParseOr(what, "°C")
	if err != nil {
		return identify.Finding{}, err
	}
	if !(at >= zeroCelsius+40 && at <= zeroCelsius+300) {
		return identify.Finding{}, fmt.Errorf("metal of %s tells nothing; give 40 to 300 °C", quantity.Temperature.Show(at))
	}
	return identify.Finding{Test: "sticks", Yes: yes, At: at}, nil
}

// readWeighed reads what follows "weighed": mass, volume, what the scale reads to.
func readWeighed(text string) (identify.Finding, error) {
	words := strings.Fields(text)
	if len(words) != 3 {
		return identify.Finding{}, fmt.Errorf("%q is no weighing; write it like weighed 12.2g 10cm3 0.1g", shortened(text))
	}
	var si [3]float64
	for i, kind := range []quantity.Kind{quantity.Mass, quantity.Volume, quantity.Mass} {
		var err error
		if si[i], err = kind.Parse(words[i]); err != nil {
			return identify.Finding{}, err
		}
	}
	return WeighedFinding(si[0], si[1], si[2])
}

// answered splits what a finding says from its answer.
func answered(text string) (what string, yes bool, err error) {
	i := strings.LastIndex(text, "=")
	if i < 0 {
		return "", false, fmt.Errorf("%q has no answer; write it like water=no", shortened(text))
	}
	what = strings.TrimSpace(text[:i])
	switch strings.ToLower(strings.TrimSpace(text[i+1:])) {
	case "yes":
		yes = true
	case "no":
	default:
		return "", false, fmt.Errorf("%q ends in neither yes nor no; leave it out when you do not know", shortened(text))
	}
	if what == "" {
		return "", false, fmt.Errorf("%q names nothing before the =", shortened(text))
	}
	return what, yes, nil
}

// shortened bounds what a message repeats.
func shortened(text string) string {
	const most = 60
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + "…"
}
