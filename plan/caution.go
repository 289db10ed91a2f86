package plan

import (
	"fmt"

	"hopperful/answer"
	"hopperful/quantity"
	"hopperful/shop"
)

// The places where cautions stand.
const (
	beforeFirst = "before the first charge"
	atMill      = "at this mill"
	atLevel     = "at this level"
)

// usualCautions are shown before a first charge. They are general, name no
// standard as met, and leave the last word to local rules and licensed people.
var usualCautions = []string{
	"Metal parts of the mill need a protective earth, and the socket a residual-current device. Have mains wiring done and tested by a licensed electrician; local rules decide.",
	"The lid switch must stop the rotor. Pull the plug before a hand goes near the blade, and wait until it stands still.",
	"Wear hearing and eye protection from the first second; shards leave a mill fast.",
	"Keep dust down: wipe or vacuum it up, do not blow it about, no flame or spark near it, and a mask for whoever empties the jar. Fine plastic dust can burn.",
	"hopperful forecasts and reminds. It protects nobody: it is not a safety device and does not know whether a machine is safe.",
}

// cautions gathers what a person should hear before this plan is run.
func cautions(m shop.MillState, material []string, load, continuous float64) []answer.Caution {
	var all []answer.Caution
	add := func(where, format string, args ...any) {
		all = append(all, answer.Caution{Where: where, Text: fmt.Sprintf(format, args...)})
	}
	for _, lack := range []struct {
		answer shop.YesNo
		what   string
		does   string
	}{
		{m.Earth, "a protective earth", "A fault can put mains voltage on its metal. Do not run it before a licensed electrician has put that right."},
		{m.LidSwitch, "a lid switch", "Nothing stops the rotor when the lid opens. Have one fitted before grinding; until then keep the lid clamped and the plug in sight."},
		{m.ResidualCurrent, "a residual-current device on its circuit", "It is what trips when current takes the way through a person. Have one fitted by a licensed electrician."},
	} {
		switch lack.answer {
		case shop.No:
			add(atMill, "Its owner says %s lacks %s. %s", m.Name, lack.what, lack.does)
		case shop.Unknown:
			add(atMill, "Nobody has said whether %s has %s. Look, or ask a licensed electrician, before grinding.", m.Name, lack.what)
		}
	}
	if continuous > 0 && load > nearRating*continuous {
		add(atLevel, "The draw of about %s is near the continuous rating of %s. Feel for heat at plug and controller with the plug pulled, and stop at any smell.",
			quantity.Power.Rough(load), quantity.Power.Plain(continuous))
	}
	for _, text := range material {
		add(answer.OfMaterial, "%s", text)
	}
	if len(m.Runs) == 0 {
		for _, text := range usualCautions {
			add(beforeFirst, "%s", text)
		}
	}
	return all
}

// nearRating is the share of a continuous rating from which a caution is due.
const nearRating = 0.7
