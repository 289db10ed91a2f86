package upkeep

import (
	"math"
	"slices"
	"strings"

	"hopperful/process/upkeep"
	"hopperful/shop"
)

// Used is what a part has done: the sums of the runs it took part in.
type Used struct {
	Mass    float64 // put into the mill [kg]
	Time    float64 // of the mill turning [s]
	Energy  float64 // by the meter [J]
	Runs    int
	Metered int // runs of them whose energy was read
}

func (u *Used) add(b *shop.Ground) {
	u.Mass += b.Charge
	u.Time += b.Run
	u.Runs++
	if b.Energy != nil {
		u.Energy += *b.Energy
		u.Metered++
	}
}

// Part is one part of a mill, with what the records say of it.
type Part struct {
	Part    shop.MillPart
	Since   shop.RecordID   // the service its life began with; 0: the mill's first record
	Now     Used            // of the part that is in
	Look    shop.RecordID   // the last good look at it, or its fitting; 0: none
	Unseen  Used            // since then
	Looks   int             // at this part, over all lives
	Damaged shop.RecordID   // record that found it damaged and that nothing has mended; 0: none
	Lives   []upkeep.Window // until it had to be mended, or sharpened
	Harm    []upkeep.Window // until it was damaged: a blunt edge spoils no lot
	Wear    []wearing       // weighings of blades and screens

	at     float64 // life at the last good look [kg]
	weight *float64
	worn   float64         // kilograms since that weight
	runs   []shop.RecordID // since the last good look
	hurt   []shop.RecordID // runs between the last good look and the damage
}

// wearing is what a part lost between two weighings.
type wearing struct {
	before, after, ground float64 // [kg]
	record                shop.RecordID
}

// kinds are the parts that are followed, in the order they are shown.
var kinds = []shop.MillPart{shop.ScreenPart, shop.BladePart, shop.SealPart, shop.MagnetPart, shop.BearingPart}

// Parts reads the records for one mill.
func Parts(s *shop.State, mill string) []*Part {
	var all []*Part
	for _, k := range kinds {
		all = append(all, &Part{Part: k})
	}
	find := func(k shop.MillPart) *Part {
		if i := slices.IndexFunc(all, func(p *Part) bool { return p.Part == k }); i >= 0 {
			return all[i]
		}
		p := &Part{Part: k}
		all = append(all, p)
		return p
	}
	for _, r := range s.Records.Of((*shop.Ground)(nil), (*shop.Serviced)(nil), (*shop.Happened)(nil), (*shop.MillSet)(nil)) {
		switch b := r.Body.(type) {
		case *shop.Ground:
			if b.Mill == mill {
				for _, p := range all {
					p.run(r.ID, b)
				}
			}
		case *shop.Serviced:
			if b.Mill == mill {
				find(b.Part).serve(r.ID, b)
			}
		case *shop.Happened:
			switch {
			case b.Mill != mill:
			case b.What == shop.TornScreen:
				find(shop.ScreenPart).damage(r.ID)
			case b.What == shop.CrackedPlate:
				find(shop.BladePart).damage(r.ID)
			}
		case *shop.MillSet:
			if b.Mill.Name == mill {
				for _, name := range s.Changed(r.ID) {
					switch {
					case strings.HasPrefix(name, "screen."):
						find(shop.ScreenPart).renew(r.ID)
					case strings.HasPrefix(name, "rotor_"):
						find(shop.BladePart).renew(r.ID)
					}
				}
			}
		}
	}
	for _, p := range all {
		if p.Damaged == 0 && p.Now.Mass > 0 { // it still runs
			p.lasted()
		}
	}
	return all
}

// lasted notes a life that had not ended when it was last seen.
func (p *Part) lasted() {
	w := upkeep.Window{From: p.Now.Mass, To: math.Inf(1)}
	p.Lives, p.Harm = append(p.Lives, w), append(p.Harm, w)
}

func (p *Part) run(id shop.RecordID, b *shop.Ground) {
	p.Now.add(b)
	p.Unseen.add(b)
	p.worn += b.Charge
	p.runs = append(p.runs, id)
}

// serve takes a look or a repair up.
func (p *Part) serve(id shop.RecordID, b *shop.Serviced) {
	p.weigh(id, b)
	bad := b.What == shop.FoundDamaged || b.What == shop.Inspected && b.Sound == shop.No
	mended := b.What == shop.Replaced || b.What == shop.Repaired || b.What == shop.Sharpened
	switch {
	case bad:
		p.Looks++
		p.damage(id)
	case mended && b.What == shop.Sharpened && p.Damaged == 0 && p.Now.Mass > p.at:
		p.Lives = append(p.Lives, upkeep.Window{From: p.at, To: p.Now.Mass}) // its edge had come to its end
		p.Harm = append(p.Harm, upkeep.Window{From: p.Now.Mass, To: math.Inf(1)})
		p.begin(id)
	case mended && b.Sound != shop.No:
		p.renew(id)
	case b.What == shop.Inspected && b.Sound == shop.Yes:
		p.Looks++
		p.seen(id)
	}
}

// weigh compares a part with its last weight.
func (p *Part) weigh(id shop.RecordID, b *shop.Serviced) {
	if b.Before != nil && p.weight != nil && p.worn > 0 {
		p.Wear = append(p.Wear, wearing{*p.weight, *b.Before, p.worn, id})
	}
	for _, w := range []*float64{b.Before, b.After} {
		if w != nil {
			p.weight, p.worn = w, 0
		}
	}
}

// damage ends a life: it had failed somewhere since it was last seen sound.
func (p *Part) damage(id shop.RecordID) {
	if p.Damaged != 0 {
		return
	}
	p.Damaged = id
	p.hurt = slices.Clone(p.runs)
	if p.Now.Mass > 0 {
		w := upkeep.Window{From: min(p.at, p.Now.Mass), To: p.Now.Mass}
		p.Lives, p.Harm = append(p.Lives, w), append(p.Harm, w)
	}
}

// renew begins a chapter; a part taken out sound had lasted at least so long.
func (p *Part) renew(id shop.RecordID) {
	if p.Damaged == 0 && p.Now.Mass > 0 {
		p.lasted()
	}
	p.begin(id)
}

func (p *Part) begin(id shop.RecordID) {
	p.Since, p.Damaged, p.Now, p.at = id, 0, Used{}, 0
	p.seen(id)
}

// seen notes a good look.
func (p *Part) seen(id shop.RecordID) {
	p.Damaged = 0
	p.Look, p.Unseen, p.at, p.runs = id, Used{}, p.Now.Mass, nil
}
