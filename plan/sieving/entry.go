package sieving

import (
	"hopperful/fact"
	"hopperful/process/sieve"
)

// where is the place of a fault: its portion and row, 0 where it has none.
func where(e *sieve.EntryError) (portion, row fact.Fact) {
	return fact.Name("portion", nth(e.Portion, 2)), fact.Name("row", nth(e.Row, 1))
}

// refused says what is wrong with a stack as entered.
func refused(e *sieve.EntryError) fact.Saying {
	portion, row := where(e)
	switch e.Code {
	case sieve.WrongOrder:
		return fact.Say("sieving.wrong_order", portion, row)
	case sieve.SameSieve:
		return fact.Say("sieving.same_sieve", portion, row)
	case sieve.WrongNumber:
		return fact.Say("sieving.wrong_number", portion, row)
	case sieve.NegativeMass:
		return fact.Say("sieving.negative_mass", portion, row)
	case sieve.NotANumber:
		return fact.Say("sieving.not_a_number", portion, row)
	case sieve.AllEmpty:
		return fact.Say("sieving.all_empty")
	case sieve.TooFew:
		return fact.Say("sieving.too_few")
	case sieve.NotReached:
		return fact.Say("sieving.not_reached")
	case sieve.UnknownSieve:
		return fact.Say("sieving.unknown_sieve", portion, row)
	}
	return fact.Verbatim(e.Error())
}

// advised says what to do about it.
func advised(e *sieve.EntryError) fact.Saying {
	switch e.Code {
	case sieve.WrongOrder:
		return fact.Say("sieving.list_from_top")
	case sieve.SameSieve:
		return fact.Say("sieving.take_one_out")
	case sieve.WrongNumber:
		return fact.Say("sieving.one_mass_a_sieve")
	case sieve.NegativeMass, sieve.NotANumber:
		return fact.Say("sieving.weigh_again")
	case sieve.AllEmpty:
		return fact.Say("sieving.enter_masses")
	case sieve.UnknownSieve:
		return fact.Say("sieving.name_its_hole")
	}
	return fact.Say("sieving.add_sieves")
}
