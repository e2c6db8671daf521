package rotation

import (
	"fmt"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/garden"
)

// Told returns a conflict as a page prints it, with both places in the grower's files.
func Told(g *garden.Garden, c facts.Conflict) string {
	return fmt.Sprintf("%s In the notes: %s, then %s.", c.Text, g.Place(c.Before), g.Place(c.At))
}

// Doubt returns a conflict as proof prints it, with both places.
func Doubt(g *garden.Garden, c facts.Conflict) diag.Diagnostic {
	d := diag.Errorf(c.At, "too-soon", "%q comes back to %q too soon", c.Crop, c.Pot)
	if c.Never {
		d = diag.Errorf(c.At, "unfit-mix", "the mix of %q is not fit for %q", c.Pot, c.Crop)
	}
	d.Severity = diag.Doubt
	year := g.Handbook.Year()
	if c.Never {
		return d.Hint("replace all of the mix, or choose another pot").Also(c.Before, "what was found in %s is here", year.Name(c.LastYear))
	}
	return d.Hint("wait until %s, choose another family, or replace all of the mix", year.Name(c.Year+c.Wait)).
		Also(c.Before, "what stood there until %s is here", year.Name(c.LastYear))
}
