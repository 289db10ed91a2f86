package forms

import (
	"strconv"
	"strings"

	"hopperful/internal/exchange"
	"hopperful/internal/say"
)

// parseCurve reads a pasted table of wavelengths and reflectances.
func parseCurve(typed string) (any, error) {
	read, err := exchange.ReadCurve("", strings.NewReader(typed), int64(len(typed)))
	if err != nil {
		return nil, err
	}
	list := []any{}
	for i, w := range read.Wavelengths {
		list = append(list, map[string]any{"wavelength_m": w, "reflectance": read.Light[i]})
	}
	return list, nil
}

// ShowCurve writes a curve as it would be pasted, in nm.
func ShowCurve(p *say.Printer, list []any) string {
	var lines []string
	for _, e := range list {
		w, isW := dig(e, []string{"wavelength_m"}).(float64)
		light, isLight := dig(e, []string{"reflectance"}).(float64)
		if isW && isLight {
			lines = append(lines, p.Decimal(strconv.FormatFloat(w*1e9, 'g', 10, 64)+"; "+strconv.FormatFloat(light, 'f', -1, 64)))
		}
	}
	return strings.Join(lines, "\n")
}
