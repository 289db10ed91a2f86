// Package rules holds the rules of the house as tests over the whole tree: who
// imports whom, what the comment of a formula says, that every source cited is
// known and every one known is cited, how long files and functions are. The
// tables of docs/structure.md are its input. A rule is a function from what it
// judges to the list of violations, so that each is also tried on a small sample
// that breaks it. There is nothing here to import.
package rules
