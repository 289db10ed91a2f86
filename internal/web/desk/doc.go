// Package desk is what lies ready while a page is made: one snapshot of the shop, its
// moment, its words, and the colours of its lots.
package desk
