// Package demo is an invented shop: its people, machines, bins and three months
// of records, so that a newcomer can look around and tests have something to
// stand on. Nothing in it happened; every value is our own invention (source:
// invented), chosen to look like a small workshop's books.
//
// What the invented mills give comes from the models of package estimate, with
// one hidden set of parameters each (truth.go) and the scatter of scale, watch
// and thermometer on top. So there is something to learn from the records, and
// something to hold against what was learned. The shop writes as a maker does: what
// stays in a mill mostly goes unweighed, temperatures are read now and then, the
// meter seldom, one slip was asked about and mended and one is still open.
//
// The last day is spent at a school's lab: colours, melt flow and moisture, again
// from the models with hidden values (openday.go), so that ages, colours and
// blends have something to learn too; [Wanted] is of a colour no bin has.
//
// [Records] writes the books up to a given day with chance from a given
// source, so the same day and seed give the same books. [WriteFiles] writes
// three things to print, also of our own making.
package demo
