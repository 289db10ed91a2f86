// Package blend finds which lots to blend for a print, and how much of each
// ([Find]): old stock first, cheapest, or nearest in colour, within limits on
// age, melt flow, dust, colour and other plastics. It says what binds, why a lot
// is left out, and the nearest blend where no blend keeps every limit.
package blend
