// Package drawing draws what the pages show of lots: heaps, growth rings, ages, and
// where the grams went. Each drawing is one element of the page, in the look of the
// style sheet; what is drawn was reckoned before.
package drawing
