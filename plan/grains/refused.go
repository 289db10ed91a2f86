package grains

import (
	"hopperful/answer"
	"hopperful/fact"
	"hopperful/process/grain"
	"hopperful/quantity"
)

// Refused says why a picture cannot be measured, and what to do.
func Refused(r *grain.Refusal) answer.Finding {
	pixels := fact.About("value", quantity.Number, r.Value)
	switch r.Code {
	case grain.Covered:
		return answer.Found(fact.Say("grains.refused_covered", covered(r)), fact.Say("grains.do_covered"))
	case grain.Faint:
		return answer.Found(fact.Say("grains.refused_faint"), fact.Say("grains.do_faint"))
	case grain.Noisy:
		return answer.Found(fact.Say("grains.refused_noisy"), fact.Say("grains.do_noisy"))
	case grain.TooFine:
		return answer.Found(fact.Say("grains.refused_too_fine", pixels), fact.Say("grains.do_too_fine"))
	case grain.Unscaled:
		return answer.Found(fact.Say("grains.refused_unscaled"), fact.Say("grains.do_unscaled"))
	case grain.Blurred:
		return answer.Found(fact.Say("grains.refused_blurred"), fact.Say("grains.do_blurred"))
	case grain.WideAngle:
		return answer.Found(fact.Say("grains.refused_wide_angle"), fact.Say("grains.do_wide_angle"))
	case grain.Tilted:
		return answer.Found(fact.Say("grains.refused_tilted"), fact.Say("grains.do_tilted"))
	case grain.NoGrains:
		return answer.Found(fact.Say("grains.refused_no_grains"), fact.Say("grains.do_no_grains"))
	case grain.TooLarge:
		return answer.Found(fact.Say("grains.refused_too_large"), fact.Say("grains.do_too_large"))
	case grain.TooSmall:
		return answer.Found(fact.Say("grains.refused_too_small", pixels), fact.Say("grains.do_too_small"))
	case grain.OtherScale:
		return answer.Found(fact.Say("grains.refused_other_scale", fact.Measured("value", quantity.Length, r.Value)), fact.Say("grains.do_other_scale"))
	}
	return answer.Found(fact.Say("grains.refused_not_read"), fact.Say("grains.do_not_read"))
}

// covered is the share of the field under grains, or nothing where no ground is seen.
func covered(r *grain.Refusal) fact.Fact {
	if r.Value >= 1 {
		return fact.Name("value", "")
	}
	return fact.About("value", quantity.Share, r.Value)
}
