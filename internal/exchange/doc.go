// Package exchange reads and writes tables that people keep elsewhere: a sieve
// stack or a curve of reflectance as CSV, as a workbook (XLSX) or as text pasted
// from one.
//
// The way through: [ReadStack] bounds what it reads, finds out what kind of
// table it is (sheet.go, text.go, separate.go), which column means what
// (heading.go) and which sign is the decimal one (decimal.go), and returns a
// [Stack] in SI. [WriteTemplate] writes an empty one to fill in. [ReadCurve] does the same for the light
// a plastic sends back at each wavelength.
//
// The words of a heading are plain English or German: opening, retained; or full and
// empty where a sieve was weighed with what lay on it. Units stand in the
// heading or in the cell, never nowhere. Whatever cannot be read is an [Error]
// that names the line or the cell and what to do.
package exchange
