package balance

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestCoarseScale: 0.0064 g of nitrogen are 0.0533 g of a salt of 12 %; the least step of a scale, 0.1 g, is 87.5 % more and is
// named like a coarse spoon. 0.012 g are 0.1 g.
func TestCoarseScale(t *testing.T) {
	const salt = "salt: {name: Salt, label: {n: 12, p2o5: 0, k2o: 0}, cup weighs: 100 g}\n"
	body := func(n string) string { return "for: 500 mL\ntargets: {n: " + n + " g}\nfrom: [salt]\ncount: total\n" }
	out := compute(t, salt, body("0.0064"))
	assert.InEpsilon(t, 87.5, out.Number("amounts/salt/rounding_percent/low"), 1e-3)
	assert.Contains(t, out.Cautions(""), "coarse-rounding")
	assert.Contains(t, strings.Join(strings.Fields(out.Text()), " "), "Salt: 0.1 g, the nearest step of a kitchen scale, is 87.5 % more than asked, over the 10 % that pass.")
	assert.NotContains(t, compute(t, salt, body("0.012")).Cautions(""), "coarse-rounding")
}

// TestRecipeKeepsTheAuthorsVolume: a volume stands in the recipe as it was written, and computes as the balance did; of a
// container by its measures it is litres.
func TestRecipeKeepsTheAuthorsVolume(t *testing.T) {
	const rest = "\ntargets: {n: 6 to 10 g}\nfrom: [blood]\ncount: total\n"
	for _, volume := range []string{"15 gal", "60 L", "1 1/2 cu ft"} {
		assert.Contains(t, compute(t, products, "for: "+volume+rest).Text(), "for: "+volume+"\n")
	}
	assert.Contains(t, compute(t, products, "for: trough 50 x 40 x 20 cm"+rest).Text(), "for: 40 L\n")
}
