package web

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// rgb is a screen colour.
type rgb struct{ r, g, b uint8 }

func (c rgb) String() string { return fmt.Sprintf("#%02x%02x%02x", c.r, c.g, c.b) }

// toward mixes a share of another colour in, for the light and dark sides of
// grains.
func (c rgb) toward(o rgb, share float64) rgb {
	mix := func(a, b uint8) uint8 { return uint8(math.Round(float64(a) + (float64(b)-float64(a))*share)) }
	return rgb{mix(c.r, o.r), mix(c.g, o.g), mix(c.b, o.b)}
}

// noColour draws a lot whose colour nobody said.
var noColour = rgb{0xb4, 0xb0, 0xa4}

// colourWords are the words people use for plastics, as this program draws
// them. Judgement: nothing is reckoned from them.
var colourWords = []struct {
	word string
	as   rgb
}{
	{"black", rgb{0x26, 0x27, 0x28}}, {"white", rgb{0xf4, 0xf3, 0xee}}, {"grey", rgb{0x86, 0x88, 0x8a}}, {"gray", rgb{0x86, 0x88, 0x8a}},
	{"silver", rgb{0xb3, 0xb6, 0xb8}}, {"clear", rgb{0xe3, 0xea, 0xe8}}, {"transparent", rgb{0xe3, 0xea, 0xe8}}, {"natural", rgb{0xe9, 0xe2, 0xcf}},
	{"orange", rgb{0xe3, 0x73, 0x1c}}, {"red", rgb{0xb8, 0x2a, 0x24}}, {"yellow", rgb{0xe8, 0xc4, 0x2c}}, {"green", rgb{0x35, 0x7d, 0x45}},
	{"blue", rgb{0x24, 0x57, 0xa6}}, {"turquoise", rgb{0x1f, 0x9a, 0x97}}, {"teal", rgb{0x1c, 0x7a, 0x7b}}, {"purple", rgb{0x6a, 0x3d, 0x92}}, {"violet", rgb{0x6a, 0x3d, 0x92}},
	{"pink", rgb{0xe0, 0x86, 0xa5}}, {"brown", rgb{0x71, 0x4c, 0x32}}, {"beige", rgb{0xd9, 0xc9, 0xa6}}, {"gold", rgb{0xb9, 0x91, 0x36}}, {"olive", rgb{0x74, 0x77, 0x36}},
	{"mixed", rgb{0x8b, 0x83, 0x78}},
}

// colourOf is the colour a lot is drawn in: the picked one, or the one its word
// names.
func colourOf(hex, word string) rgb {
	if c, ok := parseHex(hex); ok {
		return c
	}
	word = strings.ToLower(word)
	for _, w := range colourWords {
		if strings.Contains(word, w.word) {
			switch {
			case strings.Contains(word, "dark"):
				return w.as.toward(rgb{}, 0.35)
			case strings.Contains(word, "light"):
				return w.as.toward(rgb{255, 255, 255}, 0.4)
			}
			return w.as
		}
	}
	return noColour
}

func parseHex(hex string) (rgb, bool) {
	if len(hex) != 7 || hex[0] != '#' {
		return rgb{}, false
	}
	n, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		return rgb{}, false
	}
	return rgb{uint8(n >> 16), uint8(n >> 8), uint8(n)}, true
}
