package plan

import (
	"math"
	"time"

	"hopperful/answer"
	"hopperful/shop"
)

// How warm the room at a mill is, as its runs tell: what is learned from readings and
// what is planned on them stand over the same room, or a wall read a minute ago would
// be planned for as if it were cooler by what the two rooms differ.

// climate is what readings have said of the room so far.
type climate struct {
	room    *float64      // as last read, by a thermometer in it or of the cold mill's wall; nil: never [K]
	from    shop.RecordID // the record that says so
	coolest *float64      // of the walls read since then: the room is no warmer [K]
}

// warmest is the room beyond which a wall that was read before a run stood in
// the sun or was still warm [K]. Judgement.
const warmest = 273.15 + 30

// read takes what a run tells; rested is how long the mill had stood, below 0 for ever.
func (c *climate) read(id shop.RecordID, b *shop.Ground, rested time.Duration) {
	cold := rested < 0 || rested >= sitting
	if cold {
		c.coolest = nil
	}
	switch {
	case b.Room != nil:
		c.room, c.from, c.coolest = b.Room, id, nil
		return
	case cold && b.WallBefore != nil && *b.WallBefore <= warmest:
		c.room, c.from = b.WallBefore, id
	}
	for _, wall := range []*float64{b.WallBefore, b.WallAfter} {
		if wall != nil && (c.coolest == nil || *wall < *c.coolest) {
			c.coolest = wall
		}
	}
}

// kelvin is how warm the room is thought to be; from names the record that says so, and
// ok is whether any does.
func (c *climate) kelvin() (room float64, from shop.RecordID, ok bool) {
	if room = answer.Room; c.room != nil {
		room, from, ok = *c.room, c.from, true
	}
	if c.coolest != nil {
		room = math.Min(room, *c.coolest)
	}
	return room, from, ok
}

// roomOf is how warm the room is thought to be [K]: as the shop says, or as last
// read at the mill, whose cold wall is as warm as the room; from names the
// record.
func roomOf(s *shop.State, mill string) (room float64, from shop.RecordID, ok bool) {
	if s.Shop.RoomTemperature != nil {
		return *s.Shop.RoomTemperature, 0, true
	}
	now := (*marks.Of(s))[mill].now
	return now.kelvin()
}
