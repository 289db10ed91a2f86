package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// RGB is a screen colour.
type RGB struct{ R, G, B uint8 }

// String is the code a style sheet reads: "#c0402a".
func (c RGB) String() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// toward mixes a share of another colour in, for the light and dark sides of
// grains.
func (c RGB) toward(o RGB, share float64) RGB {
	mix := func(a, b uint8) uint8 { return uint8(math.Round(float64(a) + (float64(b)-float64(a))*share)) }
	return RGB{mix(c.R, o.R), mix(c.G, o.G), mix(c.B, o.B)}
}

// Dark reports whether light letters stand out on it.
func (c RGB) Dark() bool { return int(c.R)*3+int(c.G)*6+int(c.B) < 1280 }

// NoColour draws a lot whose colour nobody said.
var NoColour = RGB{0xb4, 0xb0, 0xa4}

// colourWords are the words people use for plastics, as this program draws
// them. Judgement: nothing is reckoned from them.
var colourWords = []struct {
	word string
	as   RGB
}{
	{"black", RGB{0x26, 0x27, 0x28}}, {"white", RGB{0xf4, 0xf3, 0xee}}, {"grey", RGB{0x86, 0x88, 0x8a}}, {"gray", RGB{0x86, 0x88, 0x8a}},
	{"silver", RGB{0xb3, 0xb6, 0xb8}}, {"clear", RGB{0xe3, 0xea, 0xe8}}, {"transparent", RGB{0xe3, 0xea, 0xe8}}, {"natural", RGB{0xe9, 0xe2, 0xcf}},
	{"orange", RGB{0xe3, 0x73, 0x1c}}, {"red", RGB{0xb8, 0x2a, 0x24}}, {"yellow", RGB{0xe8, 0xc4, 0x2c}}, {"green", RGB{0x35, 0x7d, 0x45}},
	{"blue", RGB{0x24, 0x57, 0xa6}}, {"turquoise", RGB{0x1f, 0x9a, 0x97}}, {"teal", RGB{0x1c, 0x7a, 0x7b}}, {"purple", RGB{0x6a, 0x3d, 0x92}}, {"violet", RGB{0x6a, 0x3d, 0x92}},
	{"pink", RGB{0xe0, 0x86, 0xa5}}, {"brown", RGB{0x71, 0x4c, 0x32}}, {"beige", RGB{0xd9, 0xc9, 0xa6}}, {"gold", RGB{0xb9, 0x91, 0x36}}, {"olive", RGB{0x74, 0x77, 0x36}},
	{"mixed", RGB{0x8b, 0x83, 0x78}},
}

// ColourOf is the colour a lot is drawn in: the picked one, or the one its word
// names.
func ColourOf(hex, word string) RGB {
	if c, ok := ParseHex(hex); ok {
		return c
	}
	word = strings.ToLower(word)
	for _, w := range colourWords {
		if strings.Contains(word, w.word) {
			switch {
			case strings.Contains(word, "dark"):
				return w.as.toward(RGB{}, 0.35)
			case strings.Contains(word, "light"):
				return w.as.toward(RGB{255, 255, 255}, 0.4)
			}
			return w.as
		}
	}
	return NoColour
}

// ParseHex reads a code: "#c0402a".
func ParseHex(hex string) (RGB, bool) {
	if len(hex) != 7 || hex[0] != '#' {
		return RGB{}, false
	}
	n, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		return RGB{}, false
	}
	return RGB{uint8(n >> 16), uint8(n >> 8), uint8(n)}, true
}
