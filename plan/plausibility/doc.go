// Package plausibility asks about records that were kept but can hardly be true.
package plausibility
