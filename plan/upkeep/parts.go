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
	worn   float64 // kilograms since that weight
	first  int     // of the mill's runs, the first since the last good look
}

// life is a mill as upkeep sees it, carried on from record to record.
type life struct {
	parts  []*Part
	runs   int
	harmed []harmed
}

// harmed is one damage found: the runs of the mill since the part was last seen sound,
// by their places among all its runs.
type harmed struct {
	part        shop.MillPart
	found       shop.RecordID
	first, upto int
}

// lives are the lives of a shop's mills, by their names.
var lives = shop.Carry("upkeep", takeUp, copied, (*shop.Ground)(nil), (*shop.Serviced)(nil), (*shop.Happened)(nil), (*shop.MillSet)(nil))

func copied(all *map[string]*life) map[string]*life {
	out := make(map[string]*life, len(*all))
	for name, l := range *all {
		c := life{runs: l.runs, harmed: slices.Clip(l.harmed)}
		for _, p := range l.parts {
			c.parts = append(c.parts, p.copied())
		}
		out[name] = &c
	}
	return out
}

func (p *Part) copied() *Part {
	c := *p
	c.Lives, c.Harm, c.Wear = slices.Clip(p.Lives), slices.Clip(p.Harm), slices.Clip(p.Wear)
	return &c
}

// wearing is what a part lost between two weighings.
type wearing struct {
	before, after, ground float64 // [kg]
	record                shop.RecordID
}

// kinds are the parts that are followed, in the order they are shown.
var kinds = []shop.MillPart{shop.ScreenPart, shop.BladePart, shop.SealPart, shop.MagnetPart, shop.BearingPart}

// Parts are the parts of one mill.
func Parts(s *shop.State, mill string) []*Part {
	var all []*Part
	for _, known := range begun(*lives.Of(s), mill).parts {
		p := known.copied()
		if p.Damaged == 0 && p.Now.Mass > 0 { // it still runs
			p.lasted()
		}
		all = append(all, p)
	}
	return all
}

// begun is the life of a mill, a new one where nothing is on record.
func begun(all map[string]*life, mill string) *life {
	if l := all[mill]; l != nil {
		return l
	}
	l := &life{}
	for _, k := range kinds {
		l.parts = append(l.parts, &Part{Part: k})
	}
	return l
}

// takeUp takes one record up.
func takeUp(all *map[string]*life, s *shop.State, r shop.Record) {
	on := func(mill string) *life {
		if *all == nil {
			*all = map[string]*life{}
		}
		l := begun(*all, mill)
		(*all)[mill] = l
		return l
	}
	switch b := r.Body.(type) {
	case *shop.Ground:
		l := on(b.Mill)
		l.runs++
		for _, p := range l.parts {
			p.run(b)
		}
	case *shop.Serviced:
		l := on(b.Mill)
		l.find(b.Part).serve(l, r.ID, b)
	case *shop.Happened:
		switch {
		case b.Mill == "":
		case b.What == shop.TornScreen:
			l := on(b.Mill)
			l.find(shop.ScreenPart).damage(l, r.ID)
		case b.What == shop.CrackedPlate:
			l := on(b.Mill)
			l.find(shop.BladePart).damage(l, r.ID)
		}
	case *shop.MillSet:
		l := on(b.Mill.Name)
		for _, name := range s.Changed(r.ID) {
			switch {
			case strings.HasPrefix(name, "screen."):
				l.find(shop.ScreenPart).renew(l, r.ID)
			case strings.HasPrefix(name, "rotor_"):
				l.find(shop.BladePart).renew(l, r.ID)
			}
		}
	}
}

func (l *life) find(k shop.MillPart) *Part {
	if i := slices.IndexFunc(l.parts, func(p *Part) bool { return p.Part == k }); i >= 0 {
		return l.parts[i]
	}
	p := &Part{Part: k}
	l.parts = append(l.parts, p)
	return p
}

// lasted notes a life that had not ended when it was last seen.
func (p *Part) lasted() {
	w := upkeep.Window{From: p.Now.Mass, To: math.Inf(1)}
	p.Lives, p.Harm = append(p.Lives, w), append(p.Harm, w)
}

func (p *Part) run(b *shop.Ground) {
	p.Now.add(b)
	p.Unseen.add(b)
	p.worn += b.Charge
}

// serve takes a look or a repair up.
func (p *Part) serve(l *life, id shop.RecordID, b *shop.Serviced) {
	p.weigh(id, b)
	bad := b.What == shop.FoundDamaged || b.What == shop.Inspected && b.Sound == shop.No
	mended := b.What == shop.Replaced || b.What == shop.Repaired || b.What == shop.Sharpened
	switch {
	case bad:
		p.Looks++
		p.damage(l, id)
	case mended && b.What == shop.Sharpened && p.Damaged == 0 && p.Now.Mass > p.at:
		p.Lives = append(p.Lives, upkeep.Window{From: p.at, To: p.Now.Mass}) // its edge had come to its end
		p.Harm = append(p.Harm, upkeep.Window{From: p.Now.Mass, To: math.Inf(1)})
		p.begin(l, id)
	case mended && b.Sound != shop.No:
		p.renew(l, id)
	case b.What == shop.Inspected && b.Sound == shop.Yes:
		p.Looks++
		p.seen(l, id)
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
func (p *Part) damage(l *life, id shop.RecordID) {
	if p.Damaged != 0 {
		return
	}
	p.Damaged = id
	l.harmed = append(l.harmed, harmed{p.Part, id, p.first, l.runs})
	if p.Now.Mass > 0 {
		w := upkeep.Window{From: min(p.at, p.Now.Mass), To: p.Now.Mass}
		p.Lives, p.Harm = append(p.Lives, w), append(p.Harm, w)
	}
}

// renew begins a chapter; a part taken out sound had lasted at least so long.
func (p *Part) renew(l *life, id shop.RecordID) {
	if p.Damaged == 0 && p.Now.Mass > 0 {
		p.lasted()
	}
	p.begin(l, id)
}

func (p *Part) begin(l *life, id shop.RecordID) {
	p.Since, p.Now = id, Used{}
	p.seen(l, id)
}

// seen notes a good look.
func (p *Part) seen(l *life, id shop.RecordID) {
	p.Damaged = 0
	p.Look, p.Unseen, p.at, p.first = id, Used{}, p.Now.Mass, l.runs
}
