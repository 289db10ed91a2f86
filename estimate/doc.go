// Package estimate holds what is believed about uncertain parameters: the
// priors that books and judgement give, the fit to the shop's own records, and
// the draws that plans are made of.
//
// A belief is a distribution given the way people state it, by its median and
// its 10–90 % range. [Hypercube] turns beliefs into joint draws; forecasts are
// those draws sent through the whole chain of models, never ranges glued
// together at the end.
package estimate
