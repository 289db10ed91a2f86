// Package campaign says where a grinding campaign stands: what is done, what is
// next, how much has come out against what is wanted, and when it is enough.
//
// [Begin] turns a plan into the record that opens a campaign. [Plan] plans its rest
// once more from the records as they now are; it takes a plan's time. [Of] is the
// answer, with or without such a plan: it is ready at once, so that a clock beside
// the mill never waits for it.
package campaign
