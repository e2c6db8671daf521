package rotation

import (
	"fmt"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/units"
)

// Told returns a conflict as a page prints it, with both places in the grower's files, as place prints them.
func Told(c facts.Conflict, place func(diag.Position) string) string {
	return fmt.Sprintf("%s In the notes: %s, then %s.", c.Text, place(c.Before), place(c.At))
}

// Doubt returns a conflict as proof prints it, with both places.
func Doubt(year units.GrowingYear, c facts.Conflict) diag.Diagnostic {
	d := diag.Errorf(c.At, "too-soon", "%q comes back to %q too soon", c.Crop, c.Pot)
	if c.Never {
		d = diag.Errorf(c.At, "unfit-mix", "the mix of %q is not fit for %q", c.Pot, c.Crop)
	}
	d.Severity = diag.Doubt
	if c.Never {
		return d.Hint("replace all of the mix, or choose another pot").Also(c.Before, "what was found in %s is here", year.Name(c.LastYear))
	}
	return d.Hint("wait until %s, choose another family, or replace all of the mix", year.Name(c.Year+c.Wait)).
		Also(c.Before, "what stood there until %s is here", year.Name(c.LastYear))
}
