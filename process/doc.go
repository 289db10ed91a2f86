// Package process holds what nature does to plastic on its way from a bin of
// scrap to a finished print: one sub-package a unit operation, in the order in
// which the material flows.
//
//	toolpath, mesh   what the next print eats
//	breakage         how a charge is broken and leaves through the screen
//	heat             how warm charge and wall become, what motor and controller carry
//	sieve            what came out: sieve analysis and size distributions
//	grain            the same from a photograph: grains told apart and measured
//	trace            what power and temperature tell of a run while it goes on
//	metal            what blade and screen lost, what a magnet catches, what blocks a nozzle
//	moisture         room air, water in the grains, drying and standing open
//	bulk             how grains pack, bridge and run out of a hopper
//	colour           what a mix of lots will look like
//	ageing           what melting again and again does, and how much regrind is bearable
//	recipe           which lots and how much of each
//	melt, screw      how the melt flows, what the screw takes in and gives
//	upkeep           how long wear parts last
//	exposure         what the ears of the person at the mill had today
//
// House rules. Every function takes and returns SI base units (kg, m, s, K, Pa,
// W, J; angles in rad) unless its name says otherwise. Nothing here opens a
// file, reads a clock or draws from an unseeded source of chance; nothing here
// knows a lot, a user or a page. A value out of range is a [RangeError], never
// a NaN and never silently clamped.
//
// The comment of every exported function answers the same questions in the
// same order: what it computes; each argument with unit and range; "Equation:";
// "Holds for:"; "Source:" (a key of package source, or the words "own
// derivation", "common practice, no source" or "from memory"); "Errors:";
// "Checks:" (the rows of checks.csv that prove it). A test fails when one is
// missing.
package process
