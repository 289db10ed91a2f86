// Package metal computes how much metal a mill leaves in granulate, what a magnet
// takes out and what it never will, and how likely a print meets a chip that its
// nozzle cannot pass.
//
// Wear is a mass per mass ground, from weighing blades and screens or from what
// hangs on the magnet ([WearFromParts], [WearFromMagnet]). A [Spectrum] of chip
// sizes turns mass into numbers; chips larger than a third of the nozzle and
// smaller than the screen hole are the ones that block ([Blockers]). [PrintRisk]
// joins them, [FinerScreen] says what a finer last screen changes, and a [Rate]
// learns from prints that blocked and prints that did not.
//
// A magnet proves nothing: brass inserts, aluminium and most stainless steel pass
// it. The package is no safety device and no certificate; work on blades is done
// with the mill unplugged and as its maker says.
package metal
