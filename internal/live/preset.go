package live

import (
	"strings"

	"hopperful/fact"
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
	Note  string // what to mind, as a code of the catalogue
}

// Presets are the known ways, as published by those who wrote them.
var Presets = []Preset{
	{Name: "tele-json", Topic: "tele/{device}/SENSOR", Alive: "tele/{device}/LWT", Time: "Time",
		Paths: map[sensing.What]string{sensing.Power: "ENERGY.Power", sensing.Energy: "ENERGY.Total"},
		Note:  "preset.tele_json"},
	{Name: "switch-status", Topic: "{device}/status/switch:0", Alive: "{device}/online",
		Paths: map[sensing.What]string{sensing.Power: "apower", sensing.Energy: "aenergy.total"}, Units: map[sensing.What]string{sensing.Energy: "Wh"},
		Note: "preset.switch_status"},
	{Name: "switch-events", Topic: "{device}/events/rpc", Alive: "{device}/online", Time: "params.ts",
		Paths: map[sensing.What]string{sensing.Power: `params."switch:0".apower`, sensing.Energy: `params."switch:0".aenergy.total`}, Units: map[sensing.What]string{sensing.Energy: "Wh"},
		Note: "preset.switch_events"},
	{Name: "relay-number", Topic: "{device}/relay/0/power", Alive: "{device}/online",
		Paths: map[sensing.What]string{sensing.Power: ""}},
	{Name: "component", Topic: "{device}/state", Paths: plainOfAll,
		Note: "preset.component"},
	{Name: "root-number", Topic: "{device}/power", Paths: map[sensing.What]string{sensing.Power: ""}},
	{Name: "bridge-json", Topic: "{device}", Alive: "{device}/availability",
		Paths: map[sensing.What]string{sensing.Power: "power", sensing.Energy: "energy", sensing.Wall: "temperature", sensing.Room: "temperature", sensing.Humidity: "humidity"},
		Note:  "preset.bridge_json"},
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
	return Preset{}, &Refusal{fact.Say("live.no_preset", fact.Name("name", name)), fact.Say("live.there_are", fact.Name("names", strings.Join(names, ", ")))}
}

// Fill puts what the preset knows into a sensor.
func (p Preset) Fill(s Sensor, device string) (Sensor, error) {
	path, ok := p.Paths[s.What]
	if !ok {
		return s, &Refusal{fact.Say("live.preset_shows_none", fact.Name("name", p.Name), fact.Name("what", string(s.What))), fact.Say("live.do_topic_and_path")}
	}
	if device == "" {
		return s, &Refusal{fact.Say("live.no_device"), fact.Say("live.do_give_device")}
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
