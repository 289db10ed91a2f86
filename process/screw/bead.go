package screw

// The flow a printed line asks for, by two models of its cross-section. They
// differ by about a tenth: say which one a printer's slicer uses.

import (
	"math"

	"hopperful/process"
)

// RectangleFlow returns the volume flow of a line of rectangular section [m³/s].
//
//	height  layer height [m], 1e-5 to 0.05
//	width   of the line [m], 1e-5 to 0.1
//	speed   of the nozzle along it [m/s], 0 to 10
//
// Equation: Q = h w v.
// Holds for: lines pressed against their neighbours.
// Source: BeadFlow2026.
// Errors: RangeError for an argument out of range.
// Checks: RectangleFlow rows of checks.csv (2 own derivation, 1 refusal).
func RectangleFlow(height, width, speed float64) (float64, error) {
	if err := within(limit{"layer height", height, 1e-5, 0.05, "m"}, limit{"line width", width, 1e-5, 0.1, "m"},
		limit{"speed", speed, 0, 10, "m/s"}); err != nil {
		return 0, err
	}
	return height * width * speed, nil
}

// RoundedArea returns the cross-section of a line with round ends [m²].
//
//	height  layer height [m], 1e-5 to 0.05
//	width   of the line, round ends included [m], height to 0.1
//
// Equation: A = (w − h) h + π h²/4.
// Holds for: a free line; a squeezed one is nearer to the rectangle.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: RoundedArea rows of checks.csv (1 own derivation, 1 refusal).
func RoundedArea(height, width float64) (float64, error) {
	if err := within(limit{"layer height", height, 1e-5, 0.05, "m"}, limit{"line width", width, height, 0.1, "m"}); err != nil {
		return 0, err
	}
	return (width-height)*height + math.Pi*height*height/4, nil
}

// RoundedWidth returns the width of a line with round ends from its
// cross-section [m].
//
//	area    volume flow over speed [m²], above 0 to 1e-2
//	height  layer height [m], 1e-5 to 0.05
//
// Equation: w = A/h + h (1 − π/4).
// Holds for: the inverse of RoundedArea; width follows volume, not the swell of a free strand.
// Source: own derivation.
// Errors: RangeError for an argument out of range, or an area too small to be as wide as high.
// Checks: RoundedWidth rows of checks.csv (1 own derivation, 1 refusal).
func RoundedWidth(area, height float64) (float64, error) {
	if err := within(limit{"layer height", height, 1e-5, 0.05, "m"}); err != nil {
		return 0, err
	}
	if err := process.Within("cross-section of the line", area, math.Pi*height*height/4, 1e-2, "m²", "own derivation"); err != nil {
		return 0, err
	}
	return area/height + height*(1-math.Pi/4), nil
}
