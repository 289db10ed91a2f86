// Package fit says whether a lot is fit for a print ([Judge]), question by
// question with what would change each answer, and how to dry it ([Dry]). Both
// draw what is not known from its range and follow every draw through hopper,
// screw and nozzle; the same seed gives the same answer.
package fit
