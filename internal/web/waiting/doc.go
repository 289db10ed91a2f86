// Package waiting is about answers that take long or are asked by many: they are reckoned
// one at a time beside the pages and kept for a while, and one page is made for all who
// ask for it within a second.
package waiting
