// Package prints is the pages of prints that are wanted: the first steps, needs, plans, blends,
// whether a lot is fit, and drying.
package prints
