package live

import (
	"fmt"
	"strings"

	"hopperful/plan/sensing"
)

// Preset is a way that meters in the shops for home automation speak, by what it looks like.
// {device} stands for what the sensor calls itself.
type Preset struct {
	Name  string // of our own
	Topic string
	Alive string
	Time  string
	Paths map[sensing.What]string // "" in it: a plain number
	Units map[sensing.What]string
	Note  string // what to mind
}

// Presets are the known ways, as published by those who wrote them.
var Presets = []Preset{
	{Name: "tele-json", Topic: "tele/{device}/SENSOR", Alive: "tele/{device}/LWT", Time: "Time",
		Paths: map[sensing.What]string{sensing.Power: "ENERGY.Power", sensing.Energy: "ENERGY.Total"},
		Note:  "It sends every 300 s unless told otherwise: set its period of telemetry to 10 s, the least it can. That tells runs, and no stalls."},
	{Name: "switch-status", Topic: "{device}/status/switch:0", Alive: "{device}/online",
		Paths: map[sensing.What]string{sensing.Power: "apower", sensing.Energy: "aenergy.total"}, Units: map[sensing.What]string{sensing.Energy: "Wh"},
		Note: "Switch on its generic status updates over MQTT."},
	{Name: "switch-events", Topic: "{device}/events/rpc", Alive: "{device}/online", Time: "params.ts",
		Paths: map[sensing.What]string{sensing.Power: `params."switch:0".apower`, sensing.Energy: `params."switch:0".aenergy.total`}, Units: map[sensing.What]string{sensing.Energy: "Wh"},
		Note: "It sends only what changed."},
	{Name: "relay-number", Topic: "{device}/relay/0/power", Alive: "{device}/online",
		Paths: map[sensing.What]string{sensing.Power: ""}},
	{Name: "component", Topic: "{device}/state", Paths: plainOfAll,
		Note: "The device is PREFIX/sensor/OBJECT. Set its interval to 1 s; 60 s is usual."},
	{Name: "root-number", Topic: "{device}/power", Paths: map[sensing.What]string{sensing.Power: ""}},
	{Name: "bridge-json", Topic: "{device}", Alive: "{device}/availability",
		Paths: map[sensing.What]string{sensing.Power: "power", sensing.Energy: "energy", sensing.Wall: "temperature", sensing.Room: "temperature", sensing.Humidity: "humidity"},
		Note:  "The device is BRIDGE/NAME. Many report only on change or every 5 to 60 s, and a repeated object is no new reading."},
	{Name: "plain", Topic: "{device}", Paths: plainOfAll},
}

var plainOfAll = map[sensing.What]string{sensing.Power: "", sensing.Energy: "", sensing.Wall: "", sensing.Room: "", sensing.Humidity: "", sensing.Sound: ""}

// PresetNamed finds one.
func PresetNamed(name string) (Preset, error) {
	var names []string
	for _, p := range Presets {
		if p.Name == name {
			return p, nil
		}
		names = append(names, p.Name)
	}
	return Preset{}, &Refusal{fmt.Sprintf("There is no preset called %q.", name), "There are " + strings.Join(names, ", ") + "."}
}

// Fill puts what the preset knows into a sensor.
func (p Preset) Fill(s Sensor, device string) (Sensor, error) {
	path, ok := p.Paths[s.What]
	if !ok {
		return s, &Refusal{fmt.Sprintf("Sensors of the way %s show no %s.", p.Name, s.What), "Give --topic and --path yourself."}
	}
	if device == "" {
		return s, &Refusal{"It is not said which device it is.", "Give --device as the sensor calls itself in its topics."}
	}
	put := func(into *string, text string) {
		if *into == "" {
			*into = strings.ReplaceAll(text, "{device}", device)
		}
	}
	put(&s.Topic, p.Topic)
	put(&s.Alive, p.Alive)
	put(&s.Path, path)
	put(&s.TimePath, p.Time)
	put(&s.Unit, p.Units[s.What])
	return s, nil
}
