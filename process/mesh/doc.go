// Package mesh reads solids from STL and 3MF streams and says how much plastic
// they are: volume, area, box, and how far the mesh can be trusted.
//
// Start with [ReadSTL] or [Read3MF]; [Plastic] then turns volume and area into
// a mass for given walls and infill. Readers take a stream, never a name: no
// file is opened here. Input is bounded by [Limits] before it is read; a file
// beyond a limit is refused, never cut off. Every refusal is a [*ReadError]
// that says where in the input it arose.
//
// What a mesh cannot say: shells that overlap are counted twice, and a mesh
// with open edges has no volume at all, only an estimate that depends on where
// the holes are. Both are reported, neither is mended.
package mesh
