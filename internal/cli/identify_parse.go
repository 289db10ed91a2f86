package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/plan/piece"
	"hopperful/polymer/identify"
	"hopperful/quantity"
	"hopperful/shop"
)

// zeroCelsius is 0 °C [K].
const zeroCelsius = 273.15

// answered cuts "WHAT=yes" into what and the answer.
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
		return "", false, fmt.Errorf("%q ends in neither yes nor no; leave the flag out when you do not know", shortened(text))
	}
	if what == "" {
		return "", false, fmt.Errorf("%q names nothing before the =", shortened(text))
	}
	return what, yes, nil
}

// floated reads one --floats: "water=no", "1.08 g/cm3=yes", "brine 12%=no".
func floated(text string, temperature float64) (identify.Finding, error) {
	what, yes, err := answered(text)
	if err != nil {
		return identify.Finding{}, err
	}
	rho, err := densityOf(what, temperature)
	return identify.Finding{Test: "floats", Yes: yes, At: rho}, err
}

// densityOf reads a liquid: a density, or a name with its strength.
func densityOf(what string, temperature float64) (float64, error) {
	if rho, err := quantity.Density.Parse(what); err == nil {
		if rho < 700 || rho > 1500 { // what the formula of floating holds for
			return 0, fmt.Errorf("a liquid of %s is out of reach; they lie between 0.7 and 1.5 g/cm³", quantity.Density.Show(rho))
		}
		return rho, nil
	}
	name, strength, _ := strings.Cut(what, " ")
	liquid, err := identify.FindLiquid(name)
	if err != nil {
		return 0, fmt.Errorf("%w; or give its density, such as 1.08g/cm3", err)
	}
	share := 0.0
	switch strength = strings.TrimSpace(strength); {
	case strength != "":
		if share, err = quantity.Share.Parse(strength); err != nil {
			return 0, err
		}
	case liquid != identify.Water:
		return 0, fmt.Errorf("%s has no strength; write it like %q, by mass", liquid, string(liquid)+" 12%")
	}
	return piece.LiquidDensity(liquid, share, temperature)
}

// misread is a flag that was asked wrongly, unless the plan already said what is
// wrong with its value.
func misread(c *cobra.Command, err error) error {
	var said *shop.Error
	if errors.As(err, &said) {
		return err
	}
	return usage(c, err)
}

// stuck reads one --sticks: "120 °C=yes".
func stuck(text string) (identify.Finding, error) {
	what, yes, err := answered(text)
	if err != nil {
		return identify.Finding{}, err
	}
	at, err := quantity.Temperature.Parse(what)
	if err != nil {
		return identify.Finding{}, err
	}
	if at < zeroCelsius+40 || at > zeroCelsius+300 {
		return identify.Finding{}, fmt.Errorf("metal of %s tells nothing; give 40 to 300 °C", quantity.Temperature.Show(at))
	}
	return identify.Finding{Test: "sticks", Yes: yes, At: at}, nil
}

// shortened bounds what a message repeats.
func shortened(text string) string {
	const most = 60
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + "…"
}
