// How much input the readers accept, and the unit of a file without one.

package mesh

import "hopperful/process"

// Limits bound what a reader takes in. A zero field stands for its default.
// A mesh of 1.5 million facets of which no two share a vertex takes 390 MB of
// memory in all while it is read, and 4.3 s of a core (measured).
type Limits struct {
	Facets    int     // facets read, facets placed by a 3MF build, and vertices of one; default 2 000 000
	Bytes     int64   // of the input as given; default 1 GiB
	Unzipped  int64   // of the parts of a 3MF package read; default 512 MiB
	Ratio     float64 // unzipped over zipped size, looked at beyond 1 MiB; default 40
	Directory int64   // bytes read to find the parts of a package, 46 or more each; default 1 MiB
	Placed    int     // objects placed by a 3MF build, components counted; default 10 000
	Others    int     // elements of a 3MF that are no vertex and no triangle: texture coordinates, colours, what nobody knows; default 2 000 000
	Nesting   int     // components within components; default 16
}

// Options steer a reader. The zero value is ready to use.
type Options struct {
	// Unit is the length of one STL unit in metres; 0 means the millimetre,
	// which is common practice: the format names none. A 3MF file states its own.
	Unit   float64
	Limits Limits
}

// maxCoordinate bounds a vertex in metres. Nothing printed is a kilometre away
// from its origin (judgement), and the bound keeps every product below finite.
const maxCoordinate = 1000.0

// maxXMLDepth bounds elements within elements. The core format needs seven
// (model, resources, object, mesh, vertices, vertex; judgement).
const maxXMLDepth = 32

// maxToken bounds one element, attribute list or run of text in bytes, so that
// a reader of XML never holds more than that at once (judgement).
const maxToken = 64 << 10

// withDefaults fills the zero fields.
func (l Limits) withDefaults() Limits {
	fill(&l.Facets, 2_000_000)
	fill(&l.Bytes, 1<<30)
	fill(&l.Unzipped, 512<<20)
	fill(&l.Ratio, 40)
	fill(&l.Directory, 1<<20)
	fill(&l.Placed, 10_000)
	fill(&l.Others, 2_000_000)
	fill(&l.Nesting, 16)
	return l
}

func fill[T int | int64 | float64](field *T, standard T) {
	if *field <= 0 {
		*field = standard
	}
}

// unit returns metres per STL unit.
func (o Options) unit() (float64, error) {
	if o.Unit == 0 {
		return 1e-3, nil
	}
	return o.Unit, process.Within("length of one STL unit", o.Unit, 1e-6, 1, "m", "judgement")
}
