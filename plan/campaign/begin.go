package campaign

import (
	"math"
	"slices"

	"hopperful/fact"
	"hopperful/plan"
	"hopperful/shop"
)

// Begin is the record that opens the campaign a plan says, for one print or for
// several that share it; key is that of the device that asks.
func Begin(g plan.Grinding, req plan.Request, key string) (*shop.CampaignBegun, error) {
	if !grinds(g) && g.Blocked == nil && len(g.OnHand) > 0 {
		return nil, shop.Refuse(shop.Conflict, "", fact.Say("campaign.on_hand"), fact.Say("campaign.look_at_plan"))
	}
	if !grinds(g) {
		return nil, shop.Refuse(shop.Conflict, "", fact.Say("campaign.nothing_to_begin"), fact.Say("campaign.look_at_plan"))
	}
	b := &shop.CampaignBegun{Mill: g.Mill, Polymer: g.Polymer, Colour: req.Colour, Lots: req.Lots, Wanted: g.Setting.StopAt.Value, Cycle: cycleOf(g), Key: key}
	for _, n := range append([]shop.Need{req.Need}, req.Also...) {
		if n.Name != "" && !slices.Contains(b.Needs, n.Name) {
			b.Needs = append(b.Needs, n.Name)
		}
	}
	return b, nil
}

// grinds reports whether a plan says a charge to grind.
func grinds(g plan.Grinding) bool {
	return g.Setting.Charges.Value >= 1 && g.Setting.Charge.Value > 0 && g.Setting.StopAt.Value > 0
}

// cycleOf is the cycle of a plan. A single charge to be read counts with those
// like it that it would take in all, as far as is known.
func cycleOf(g plan.Grinding) shop.Cycle {
	s := g.Setting
	c := shop.Cycle{Charge: s.Charge.Value, Run: s.Run.Value, Rest: s.Rest.Value, Charges: int(math.Round(s.Charges.Value))}
	if s.Level != nil {
		level := int(s.Level.Value)
		c.Level = &level
	}
	if n := s.Charges.Value; g.Product.Value > 0 && n > 0 {
		each := math.Min(g.Product.Value/n, c.Charge)
		c.Expect = &each
	}
	for _, l := range g.Limits {
		if l.Key == "wall_temperature" && l.Figure.Limit != nil {
			wall := l.Figure.Limit.Value
			c.Wall = &wall
		}
	}
	if g.Trial != nil && g.Trial.Ahead != nil {
		c.Charges = max(c.Charges, int(math.Round(g.Trial.Ahead.Value)))
	}
	return c
}
