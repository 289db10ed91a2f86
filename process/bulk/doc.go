// Package bulk computes how granulate lies and runs: how dense it is poured and
// tapped, whether an entry can be true, how well it flows by the usual classes,
// whether it bridges over an outlet, how fast it runs out, and how much a jar or
// hopper holds.
//
// Two things stop granulate over a hole: grains that wedge ([MechanicalOutlet])
// and dust that sticks ([CohesiveOutlet]). [Bridging] looks at both, and
// [Remedies] says in numbers what a larger outlet, taking off the dust, a finer
// last screen or an agitator would change. None of it promises that a hopper
// never stops; clogs only become rarer.
//
// An agitator moves: guards, and the usual care around moving parts, come first.
package bulk
