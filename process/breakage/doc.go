// Package breakage computes how a charge of scrap is broken in the mill and
// leaves it through the screen: a population balance over size classes.
//
// A [Grid] divides sizes into classes. A [Kernel] says how fast a class breaks
// for the energy put in and what its debris looks like, a [Screen] how fast a
// class leaves, a [Power] how many watts reach the charge. A [Mill] joins them:
// prepare it once, then Run charges through it, as often as wanted, without
// allocating.
//
//	dm_i/dt = −S_i m_i + Σ_{j<i} b_ij S_j m_j − D_i m_i      held in the mill
//	dp_i/dt = D_i m_i                                        passed the screen
//
// [Linear] solves the same equations exactly where the rates do not depend on
// the hold-up; it proves the Mill and serves any grid and any debris.
//
// The rest of the package holds what decides whether to start at all: feed
// limits, the chance of a stall, rotor energy and stress, phase-angle control,
// and the classical energy laws. None of it is a safety device: the maker's
// instructions for the mill come first.
package breakage
