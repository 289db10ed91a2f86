// Package identification says what an unknown piece of plastic may be ([Identify]), how to
// mix the liquids it is floated in ([Liquid]), and how much of a wrong plastic is
// in a lot ([MixedShare]). It joins the tables of polymer/identify with the
// shop's own lots.
package identification
