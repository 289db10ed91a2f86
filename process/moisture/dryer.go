package moisture

// The air that reaches the granulate: ovens, dehydrators, boxes, dryers, a room.

import "hopperful/process"

// Dryer is the air around granulate. A room is one too, a poor one.
type Dryer struct {
	Temperature float64 // of air and granulate [K], 253.15 to 473.15
	Vapour      float64 // partial pressure of water in the air that comes [Pa], 0 to saturation
	Flow        float64 // air through the granulate, at Temperature [m³/s], up to 10; 0: vapour leaves by diffusion only
}

// Check refuses a dryer outside the ranges of its fields with a RangeError.
func (d Dryer) Check() error {
	if err := process.Within("temperature of the dryer", d.Temperature, 253.15, hottest, "K", judged); err != nil {
		return err
	}
	if _, err := RelativeHumidity(d.Temperature, d.Vapour); err != nil {
		return err
	}
	return process.Within("air flow", d.Flow, 0, 10, "m³/s", judged)
}

// NewOven returns an oven that heats the air of the room and exchanges it with
// the room through its vents; the granulate lies on trays in still air.
//
//	temperature  [K], 253.15 to 473.15
//	roomVapour   partial pressure of water in the room [Pa]
//
// Errors: RangeError for arguments out of range.
func NewOven(temperature, roomVapour float64) (Dryer, error) {
	d := Dryer{Temperature: temperature, Vapour: roomVapour}
	return d, d.Check()
}

// NewDehydrator returns a food dehydrator: warm room air is blown through the
// granulate. It cannot get drier than the room's dew point allows.
//
//	temperature  [K], 253.15 to 473.15
//	roomVapour   partial pressure of water in the room [Pa]
//	flow         air through the granulate [m³/s], above 0
//
// Errors: RangeError for arguments out of range.
func NewDehydrator(temperature, roomVapour, flow float64) (Dryer, error) {
	d := Dryer{Temperature: temperature, Vapour: roomVapour, Flow: flow}
	if err := process.Above("air flow", flow, 0, "m³/s", derived); err != nil {
		return d, err
	}
	return d, d.Check()
}

// NewDesiccantBox returns a closed box whose desiccant keeps the air at a
// relative humidity; nothing moves the air. The desiccant must not be spent.
//
//	temperature  of the box [K], 253.15 to 473.15
//	humidity     the desiccant keeps [–], 0 to 1
//
// Errors: RangeError for arguments out of range.
func NewDesiccantBox(temperature, humidity float64) (Dryer, error) {
	vapour, err := VapourPressure(temperature, humidity)
	if err != nil {
		return Dryer{}, err
	}
	d := Dryer{Temperature: temperature, Vapour: vapour}
	return d, d.Check()
}

// NewDryAir returns a dryer that blows air of a low dew point through the
// granulate.
//
//	temperature  [K], 253.15 to 473.15
//	dewPoint     of the air [K], 173.15 to temperature
//	flow         air through the granulate [m³/s], above 0
//
// Errors: RangeError for arguments out of range.
func NewDryAir(temperature, dewPoint, flow float64) (Dryer, error) {
	vapour, err := SaturationPressure(dewPoint)
	if err != nil {
		return Dryer{}, err
	}
	return NewDehydrator(temperature, vapour, flow)
}

// NewRoom returns the open air of a room.
//
//	temperature  [K], 253.15 to 473.15
//	humidity     relative humidity [–], 0 to 1
//
// Errors: RangeError for arguments out of range.
func NewRoom(temperature, humidity float64) (Dryer, error) {
	return NewDesiccantBox(temperature, humidity)
}
