// Package lots is the pages of lots and materials: stock, looks, age, family, photographs,
// labels, and the records written about them.
package lots
