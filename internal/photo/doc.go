// Package photo reads photographs within bounds, draws what was found in them, and
// draws the sheet that grains are spread on. Package grain measures.
package photo
