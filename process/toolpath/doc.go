// Package toolpath reads G-code and says what the print eats: volume for each
// tool, time, mean and peak flow, a table of layers. It reads a stream once,
// keeps a bounded amount of memory however long the file is, and opens nothing
// itself.
//
// The words are those of RS-274/NGC (Kramer2000): G0 to G3 with centre or
// radius arcs, G17 to G19, G20 and G21, G90 and G91, G92, comments, block
// delete, line numbers. What printers added is common practice, no source: the
// E axis, M82 and M83, M200, checksums, milliseconds in G4 P. docs/models/
// toolpath.md says how each word is taken where practice differs.
//
// The way through the package: chunk.go cuts the stream at line ends, fast.go
// and careful.go turn lines into blocks, machine.go and its neighbours carry
// the blocks out, clock.go finds times and the peak flow, summary.go holds the
// result. Batches of blocks go through these steps in their order, each taken
// through all of them by one of as many goroutines as there are processors, up to
// one a step, which end before [Read] returns.
package toolpath
