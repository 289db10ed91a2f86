// Package upkeep computes how long wear parts last: the Weibull and log-normal
// laws fitted to the lives of blades, screens and seals by maximum likelihood,
// parts still in use counted as such.
package upkeep
