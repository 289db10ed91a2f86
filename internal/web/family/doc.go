// Package family draws where a lot came from and where it went: which boxes there are,
// where they stand, the picture, and its table.
package family
