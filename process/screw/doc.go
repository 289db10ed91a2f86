// Package screw says what a small extrusion screw takes in, pumps, melts and
// holds: from granulate in the hopper to a flow at the nozzle.
//
// A [Screw] is its measures. [IntakeFlow] is what it takes in,
// [DragFlow] what its last turns drag, less what leaks back; [Operating]
// finds where pump and nozzle meet, [SpeedFor] the speed for a flow.
// [ShaftPower] and [HeaterFlow] are the heat, [MeanResidence],
// [AgedShare] and [PurgeMass] how long melt stays and what a change of colour
// costs, [HoldTime] how long a stopped print may sit hot. [FlowFactor] turns
// weighings into the number to enter on the printer. [LargestFlows] names the limit that binds and [Fits] says plainly
// where grains, screen and nozzle do not go together.
//
// None of it is a safety device: burst pressure, guards and temperature cut-outs
// are the maker's.
package screw
