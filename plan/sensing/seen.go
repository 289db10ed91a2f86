// Package sensing says what the sensors of a shop tell: what they show, what somebody
// should look at, which runs they saw and what those teach. It switches nothing; what it
// says is advice, and nothing is on record before a person confirms it.
package sensing

import (
	"time"

	"hopperful/process/trace"
	"hopperful/quantity"
)

// What is a quantity that a sensor shows.
type What string

// The quantities.
const (
	Power    What = "power"
	Energy   What = "energy"
	Wall     What = "wall"
	Room     What = "room"
	Humidity What = "humidity"
	Sound    What = "sound"
)

// Quantities are all of them.
func Quantities() []What { return []What{Power, Energy, Wall, Room, Humidity, Sound} }

// Kind is the kind of number it is.
func (w What) Kind() quantity.Kind {
	switch w {
	case Power:
		return quantity.Power
	case Energy:
		return quantity.Energy
	case Humidity:
		return quantity.Humidity
	case Sound:
		return quantity.SoundLevel
	}
	return quantity.Temperature
}

// Bounds of what a sensor can mean [SI]; anything else is a fault of sensor or setting.
func (w What) Bounds() (lo, hi float64) {
	switch w {
	case Power:
		return 0, 2e4
	case Energy:
		return 0, 1e13
	case Humidity:
		return 0, 1.05
	case Sound:
		return 0, 160
	}
	return 233.15, 600
}

// State is how a sensor is.
type State string

// The states.
const (
	Waiting State = "waiting" // nothing came yet
	Fresh   State = "fresh"
	Silent  State = "silent"  // nothing for too long
	Frozen  State = "frozen"  // the same digits again and again where they should waver
	Offline State = "offline" // it said so, or its last will did
)

// Fault is why a message cannot be read.
type Fault string

// The faults.
const (
	NoNumber Fault = "no number"
	NoJSON   Fault = "no JSON"
	Outside  Fault = "out of range"
	TooLong  Fault = "too long"
	TooDeep  Fault = "too deep"
)

// Sensor is one sensor as it is now.
type Sensor struct {
	Name, Machine, Topic string
	What                 What
	State                State
	Value                *float64 // SI
	At                   time.Time
	Skew                 float64 // its own clock lies so far behind ours [s]; 0 where it shows none

	Taken, Repeated, Late, Unread, Dropped int64
	Fault                                  Fault // what was wrong with the latest one that could not be read

	Recent []trace.Reading // of the last half hour, thinned
}

// Link is how the broker is reached.
type Link string

// The states of the link.
const (
	LinkOff        Link = ""
	LinkConnecting Link = "connecting"
	LinkUp         Link = "up"
	LinkDown       Link = "down"
)

// Mill is a mill as its sensors show it.
type Mill struct {
	Name    string
	Known   trace.Known
	Running bool
	Run     trace.Run       // so far; of a mill that runs
	Events  []trace.Event   // of the run that goes on, or of the last one
	Minute  []trace.Reading // power of the last minute
}

// Run is a run that was seen; times are seconds of the clock since 1970.
type Run struct {
	ID   int64  `json:"id"` // when it started, in whole seconds
	Mill string `json:"mill"`
	trace.Run

	WallBefore *float64 `json:"wall_before_k,omitempty"`
	WallAfter  *float64 `json:"wall_after_k,omitempty"`
	RoomAt     *float64 `json:"room_k,omitempty"`
	Damp       *float64 `json:"humidity,omitempty"`
	Loud       *float64 `json:"sound_db,omitempty"`  // highest level
	Rest       *float64 `json:"rest_s,omitempty"`    // since the stop before
	Counted    *float64 `json:"counted_j,omitempty"` // by the meter's own counter

	Cooling *trace.Cooling `json:"cooling,omitempty"`
	Aside   bool           `json:"aside,omitempty"` // nobody wants it on record
}

// least is the shortest that it can have run [s]: where its start or stop was not seen, it
// ran longer and not shorter.
func (r Run) least() float64 {
	sure := r.Time()
	if !r.Begun {
		sure -= r.Start.Doubt
	}
	if !r.Lost {
		sure -= r.Stop.Doubt
	}
	return max(0, sure)
}

// Seen is all that the sensors tell at a moment.
type Seen struct {
	Now     time.Time
	Link    Link
	Since   time.Time // the link is so
	Why     string    // it is not up; may be empty
	Refused bool      // the broker does not take this user or password
	Unkept  string    // why readings or runs are not kept beside the shop; "": they are
	Sensors []Sensor
	Mills   []Mill
	Runs    []Run // the newest last
}

// At is a moment of a trace on the clock.
func At(seconds float64) time.Time {
	return time.UnixMilli(int64(seconds * 1000))
}
