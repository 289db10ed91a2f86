package colour

// Colours in plain words.

import "math"

// hueNames are the hues of L*a*b*, each up to an angle [degrees]. Judgement, set
// so that the basic colour words of the CSS standard keep their names.
var hueNames = []struct {
	upTo float64
	word string
}{
	{20, "pink"}, {48, "red"}, {82, "orange"}, {110, "yellow"}, {127, "yellow-green"}, {170, "green"},
	{222, "turquoise"}, {309, "blue"}, {333, "violet"}, {350, "magenta"}, {360, "pink"},
}

// Name says a colour in plain words, as "dark grey", "light blue" or
// "brown-grey".
//
//	p  the colour, see its fields
//
// Equation: grey where a* and b* are small, else the hue by its angle, with dark, light or dull.
// Holds for: a word beside a patch; nothing is reckoned from it.
// Source: judgement.
// Errors: RangeError for a colour out of range.
// Checks: Name rows of checks.csv (published colour words).
func Name(p Lab) (string, error) {
	if err := p.Check(); err != nil {
		return "", err
	}
	chroma := p.Chroma()
	switch {
	case p.L < 16 && chroma < 15:
		return "black", nil
	case chroma < 5:
		return greyName(p.L), nil
	case p.L >= 88 && chroma < 9:
		return "off-white", nil
	case chroma < 15:
		return tintName(p), nil
	}
	return hueName(p, chroma), nil
}

func greyName(l float64) string {
	switch {
	case l < 16:
		return "black"
	case l < 40:
		return "dark grey"
	case l < 66:
		return "grey"
	case l < 90:
		return "light grey"
	}
	return "white"
}

func angle(p Lab) float64 { return hue(p.B, p.A) }

// tintName names a grey that leans to a hue; fewer words than for full colours.
func tintName(p Lab) string {
	h := angle(p)
	word := "violet"
	switch {
	case h >= 40 && h < 110 && p.L >= 75:
		return "beige"
	case h >= 20 && h < 110:
		word = "brown"
	case h >= 110 && h < 200:
		word = "green"
	case h >= 200 && h < 309:
		word = "blue"
	}
	return prefix(p.L, 38, 75) + word + "-grey"
}

func plainHue(h float64) string {
	for _, n := range hueNames {
		if h < n.upTo {
			return n.word
		}
	}
	return hueNames[0].word
}

// hueName names a colour by its hue, lightness and strength.
func hueName(p Lab, chroma float64) string {
	h := angle(p)
	word := plainHue(h)
	switch {
	case word == "pink" && p.L < 48:
		word = "red"
	case word == "red" && p.L >= 68:
		word = "pink"
	case h >= 20 && h < 84 && p.L < 60 && chroma < 34, h >= 48 && h < 84 && p.L < 50:
		word = "brown"
	case h >= 48 && h < 110 && p.L >= 68 && chroma < 40:
		return "beige"
	case word == "orange" && chroma < 40:
		word = "brown"
	case h >= 84 && h < 118 && p.L < 65:
		word = "olive"
	}
	switch word {
	case "pink", "yellow", "olive", "orange":
		return prefix(p.L, 38, math.Inf(1)) + word
	case "brown":
		return prefix(p.L, 30, 60) + word
	}
	dull := ""
	if chroma < 28 && p.L >= 38 && p.L < 75 {
		dull = "dull "
	}
	return dull + prefix(p.L, 38, 75) + word
}

func prefix(l, dark, light float64) string {
	switch {
	case l < dark:
		return "dark "
	case l >= light:
		return "light "
	}
	return ""
}
