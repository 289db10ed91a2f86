// Package live listens to the sensors of a shop over MQTT: to a broker there is, or one
// of its own. It turns messages into readings, keeps the latest in a ring of bounded size
// beside the shop, recognises runs in them and keeps those until somebody confirms them
// or sets them aside.
//
// It publishes nothing, switches nothing and protects nobody. What sensors send is
// untrusted: payloads, rates, clocks and names are bounded before they are believed.
package live

import "time"

// Bounds of what is taken in.
const (
	mostPayload = 4 << 10
	mostSensors = 64
	mostWaiting = 4096 // messages that wait for their turn
	mostUsers   = 32
	mostConfig  = 256 << 10
	mostName    = 60
	mostTopic   = 256
	mostPath    = 200
	mostDeep    = 6 // steps of a path
)

// Message is one message of the broker.
type Message struct {
	Topic    string
	Payload  []byte
	Retained bool // an old one that the broker kept
	Again    bool // sent a second time since the first was not acknowledged
	At       time.Time
}
