// Package outside invents mills that do not obey the equations of this house.
//
// Each is a set of plain differential equations over a handful of lumps (whole
// pieces, grains still too coarse, grains that would pass, a corner nothing
// leaves) and three temperatures, with two to six oddities drawn by its seed:
// see [Kind]. Nothing here is taken from packages process or estimate, and the
// package imports nothing of this house, which a test holds: what is learned
// well here is not learned well because the learner knew the truth's form.
//
// All numbers of the mills are invented. What is usual for such mills is
// judgement unless a comment says otherwise.
package outside
