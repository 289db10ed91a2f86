// Package identify is the pages that find out what a piece is: the dialogue and its tests, the
// liquid it floats in, and how mixed a lot is.
package identify
