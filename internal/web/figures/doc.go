// Package figures lays an answer out as every page shows it: the document in three levels
// of loudness, findings with their remedies, figures with range bars, marks of verdicts.
package figures
