// Package study asks whether the learning of package estimate keeps its word:
// it invents mills whose true parameters are drawn from the books' ranges, lets
// each write down runs with the errors a shop makes, and counts how often the
// truth lies in the ranges that the fit states, and how far its forecasts are
// off after none, a few and many records.
package study
