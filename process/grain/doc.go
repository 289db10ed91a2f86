// Package grain measures grains in a picture: a spoonful is spread thinly on a
// sheet with four marks, photographed, and becomes a size distribution by mass.
//
// The way through: [FindMarks] or [FindCard] looks for a thing of known size and
// gives a [Homography]; [Rectify] lays the field between the marks out flat;
// [Find] tells grains from paper, parts those that touch, and measures each;
// [Weigh] makes masses of areas and widths, and [Sizing] gives the sizes by mass
// with their ranges. [Measure] does all of it for one picture. [GrainsNeeded],
// [HoleElliptic] and [HoleRectangular] are the closed forms beside it.
//
// Three rules hold throughout. A picture that cannot be measured is a [*Refusal]
// that says which measure failed and by how much, never a number that looks like
// the others. Edges are where the brightness is half way between paper and this
// grain, which blur does not move. And what is too small for the picture is told
// as not seen, never extrapolated.
package grain
