// Package sieving says what a sieve stack tells: of a lot, how large its grains
// are, and whether the run it came out of gave what was foreseen ([Of]); of a
// mill, whether its screen is still whole ([Screen]).
package sieving
