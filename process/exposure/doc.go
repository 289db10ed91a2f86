// Package exposure computes the noise a person at the mill has had in a day or
// a week against three schemes, and the few facts about dust that compute.
//
//	European Union  equal energy, 8 h: action values 80 and 85 dB(A), limit 87 dB(A) at the ear
//	NIOSH           85 dB(A) for 8 h, half the time for every 3 dB more
//	OSHA            90 dB(A) for 8 h, half the time for every 5 dB more
//
// Levels are A-weighted sound pressure levels in dB, times in s. Which scheme
// applies is for local law to say; nothing here says that a workplace complies. A level that
// was not measured is a guess: a bench mill without a known level is taken as
// [AssumedLevel] and said so.
package exposure
