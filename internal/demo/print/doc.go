// Package print writes the toolpath of a small print for the demo shop, a vase
// of arcs; its tests add a box with walls and infill and a tray in two colours. The words are RS-274/NGC with an E axis; the comments are ours. Every
// function also says what it has extruded, counted its own way while writing, so
// that a reader of the file can be held against it.
//
// The machine is invented: a granule printer with a wide nozzle.
package print
