// Package estimate holds what is believed about uncertain parameters: the
// priors that books and judgement give, the fit to the shop's own records, and
// the draws that plans are made of.
//
// A belief is a distribution given the way people state it, by its median and
// its 10–90 % range. [Hypercube] turns beliefs into joint draws; forecasts are
// those draws sent through the whole chain of models, never ranges glued
// together at the end.
//
// [Fit] learns a mill from its [Run]s, whatever was measured of each. What comes
// out is a [Fitted]: beliefs narrowed as far as the records go
// ([Fitted.Beliefs]), joint draws for a plan ([Fitted.Draws]), forecasts of a run
// ([Fitted.Outcomes], [Fitted.Expect]), what each record did
// ([Fitted.Movers], [Fitted.Without]) and how a blade wears ([Fitted.Drift]).
// The page docs/models/estimate.md says how and how well.
package estimate
