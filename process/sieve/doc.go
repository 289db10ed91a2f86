// Package sieve says what came out of the mill: from the masses on a stack of
// test sieves to the size distribution, its characteristic sizes, the law that
// fits it, and whether a screen may be torn or a plate cracked.
//
// The way through: [ByDesignation], [Own] and [Openings] name the sieves;
// [Weigh] turns a [Stack] as weighed into an [Analysis] with its loss and its
// doubts; [Analysis.Distribution] makes of it a [Discrete] distribution, and
// [Describe] gives its sizes. [FitAll] fits the three laws of the trade ([RRSB],
// [GGS], [LogNormal]) and [Judge] says which fits and what that means.
// [Sound.Test] and [Metal.Test] look for a torn screen and a cracked
// plate with a stated rate of false alarms.
//
// Three rules hold throughout. Passing is interpolated linearly against the
// logarithm of size. Moments are taken over the edges of a class, never at its
// middle. And an analysis that does not close returns its loss: shares are of
// what was recovered, the charge stands beside them, nothing is normalised in
// silence.
package sieve
