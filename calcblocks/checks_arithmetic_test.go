package calcblocks_test

import "trug/calcblocks/kit/units"

// The crossings of kit/units, by which the pages multiply and divide, for plain numbers of any unit.

// contained returns what an amount of a material holds at a share of it.
func contained(amount, share float64) float64 {
	return units.Contain(units.SomeMass(surely(amount)), surely(share)).Typical
}

// bringing returns the amount that holds so much at a share of it.
func bringing(wanted, share float64) float64 {
	return units.Recover(units.SomeMass(surely(wanted)), surely(share)).Typical
}

// partOf returns which part of a whole an amount is.
func partOf(amount, whole float64) float64 {
	return units.Part(units.SomeMass(surely(amount)), units.SomeMass(surely(whole))).Typical
}

func surely(x float64) units.SomeShare { return units.SomeShare{Low: x, Typical: x, High: x} }

// beyond returns by how much an amount is more than a limit, 0 when it is not.
func beyond(limit, amount float64) float64 { return max(amount-limit, 0) }
