// Package identify reckons what a piece is from what a bench can see: whether a
// chip floats, softens in hot water, snaps, whitens. It weighs findings by
// Bayes, says which test would tell most a minute, and knows how dense the
// liquids are in which a chip floats or sinks.
//
//	book := identify.Books()
//	shares, err := book.Weigh(book.Prior(), []identify.Finding{{Test: "limp70", Yes: true}})
//	tests, err := book.Rank(shares, nil)
//
// What a finding is worth stands in chances.csv, how dense a material is in
// densities.csv, what is printed most in priors.csv, how the tests are done in
// tests.csv: judgement, one value a line, to be changed by who knows better. The
// liquids (points.csv, slopes.csv) come from published tables.
//
// Findings are taken as independent, which they are not quite: what they say
// together is therefore capped, and nothing is ever called certain.
package identify
