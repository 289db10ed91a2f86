package shop

// How the lists of records are packed: their numbers and kinds, never what they say, which lies in the file.

// packHistory writes of each record its kind, and which correct which.
func (p *packer) packHistory(l Log) {
	var fixes []fix
	kinds := make([]byte, l.Len())
	if l.n > 0 {
		copy(kinds, l.old.kinds[:l.n])
		for _, f := range l.old.fixes {
			if f.id <= RecordID(l.n) {
				fixes = append(fixes, f)
			}
		}
	}
	for i, r := range l.more {
		kinds[l.n+i] = kindAt[r.Body.Kind()]
		if r.Corrects != 0 {
			fixes = append(fixes, fix{r.ID, r.Corrects})
		}
	}
	p.uint(uint64(len(kinds)))
	p.b = append(p.b, kinds...)
	p.fixes(fixes)
}

func (p *packer) fixes(list []fix) {
	p.uint(uint64(len(list)))
	for _, f := range list {
		p.uint(uint64(f.id))
		p.uint(uint64(f.of))
		p.spill()
	}
}

// packStanding writes the numbers of the records that stand, as the streaks they make, and by
// which they were corrected.
func (p *packer) packStanding(l Log) {
	var all []streak
	var fixed []fix
	last := RecordID(-1)
	number := func(i int, id, by RecordID) {
		if id != last+1 {
			all = append(all, streak{i, id})
		}
		if last = id; by != 0 {
			fixed = append(fixed, fix{id, by})
		}
	}
	for i := range l.n {
		id := l.old.id(i)
		number(i, id, l.old.fixed[id])
	}
	for i, r := range l.more {
		number(l.n+i, r.ID, r.CorrectedBy)
	}
	p.uint(uint64(l.Len()))
	p.uint(uint64(len(all)))
	for _, s := range all {
		p.uint(uint64(s.at))
		p.uint(uint64(s.id))
		p.spill()
	}
	p.fixes(fixed)
}

func (u *unpacker) history(from Source) Log {
	o := &bygone{streaks: []streak{{0, 1}}, kinds: u.bytes(u.many()), from: from}
	o.fixes = make([]fix, u.many())
	for i := range o.fixes {
		o.fixes[i] = fix{RecordID(u.uint()), RecordID(u.uint())}
	}
	return Log{old: o, n: len(o.kinds)}
}

// standing reads the numbers of the records of a history that stand; they have their kinds from there.
func (u *unpacker) standing(history Log) Log {
	o := &bygone{fixed: map[RecordID]RecordID{}, from: history.old.from}
	n := u.uint()
	o.streaks = make([]streak, u.many())
	if n > uint64(history.n) || n > 0 && len(o.streaks) == 0 {
		u.fail("a record's number")
		return Log{old: o}
	}
	for i := range o.streaks {
		o.streaks[i] = streak{int(u.uint()), RecordID(u.uint())}
	}
	for range u.many() {
		id := RecordID(u.uint())
		o.fixed[id] = RecordID(u.uint())
	}
	o.kinds = make([]byte, 0, n)
	for i, s := range o.streaks {
		end := int(n)
		if i+1 < len(o.streaks) {
			end = o.streaks[i+1].at
			o.mixed = o.mixed || o.streaks[i+1].id < s.id
		}
		if s.at != len(o.kinds) || end <= s.at || s.id < 1 || s.id > RecordID(history.n-(end-s.at))+1 {
			u.fail("a record's number")
			return Log{old: o}
		}
		o.kinds = append(o.kinds, history.old.kinds[s.id-1:int(s.id)-1+end-s.at]...)
	}
	return Log{old: o, n: int(n)}
}
