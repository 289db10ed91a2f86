package estimate

// Change is a sudden change of a mill that nobody told.
type Change struct {
	Since       int64   // record of the first run after it
	Probability float64 // that there was one [1]
	Factor      float64 // of the break rate, from before to after [1]
	Records     []int64 // runs that speak of it
}

// Change says whether the mill suddenly ground faster or slower at some record.
func (f *Fitted) Change() (Change, bool) { return Change{}, false }
