// Package plan answers the person at the mill: how to grind what a print wants,
// and what the mill's own runs say of it. It joins the shop's records with the
// models of package process into figures, steps and cautions; the other
// questions are answered in the rooms beside it.
//
// [Grind] takes a snapshot of the shop and a need and returns the quickest
// campaign that keeps every limit with at least 90 % probability. It draws the
// uncertain parameters from their ranges, runs every draw through the whole
// chain (breakage, heat, load) and reports 10–90 % ranges; the same seed gives
// the same plan. Nothing here reads a file, a clock or unseeded chance.
package plan
