package garden_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/units"
)

// TestOneThingOnly: what a bag holds, what is left of it, and what it costs are single values.
func TestOneThingOnly(t *testing.T) {
	g, faults := openFaulty("cupboard.yaml", `kelp-meal:
  stock: 1 to 2 kg
  packs: [{holds: 1 to 2 kg, price: 3.00}, {holds: 1 kg, price: $4.50}]
gypsum:
  packs: 5 lb
  label: 0-0-0
alfalfa-meal:
  label: {n: 3 %}
compost: {stock: 40 L}
kelp meal: {stock: 1 kg}
`)
	assert.Equal(t, `content/cupboard.yaml:2:12: a range is not taken here
   stock: 1 to 2 kg
            ^
  hint: write one value, such as "1/2 cup" or "35 g"
content/cupboard.yaml:3:21: a range is not taken here
   packs: [{holds: 1 to 2 kg, price: 3.00}, {holds: 1 kg, price: $4.50}]
                     ^
  hint: write one value, such as "1/2 cup" or "35 g"
content/cupboard.yaml:3:65: "$4.50" is not an amount of money
   packs: [{holds: 1 to 2 kg, price: 3.00}, {holds: 1 kg, price: $4.50}]
                                                                 ^
  hint: write "4.50" alone; the currency stands in handbook.yaml
content/cupboard.yaml:5:10: a list of packs is needed here
   packs: 5 lb
          ^
  hint: write "packs: [{holds: 2 kg, price: 14.00}]"
content/cupboard.yaml:6:10: a label has a key for each nutrient, and "0-0-0" has none
   label: 0-0-0
          ^
  hint: write "label: {n: 0, p2o5: 0, k2o: 0}"
content/cupboard.yaml:8:14: "3 %" is not a percent from 0 to 100
   label: {n: 3 %}
              ^
  hint: write the number alone: "3"
content/cupboard.yaml:9:1: "compost" is not in the reference, so it needs a name, a label and a weighed cup
   compost: {stock: 40 L}
   ^
  hint: did you mean "yard-compost" or "cattle-manure-compost" or "mushroom-compost"?
content/cupboard.yaml:10:1: "kelp meal" is not an id
   kelp meal: {stock: 1 kg}
   ^
  hint: use lower-case letters, digits and hyphens: "kelp-meal"
`, faults)
	kelp, _ := g.Material("kelp-meal")
	assert.Nil(t, kelp.Stock, "the low end is not taken for the whole")
	assert.Empty(t, kelp.Packs)
}

// TestPotsAsOnAShelf: what stands on a shop's shelf is no shape yet, and the hint makes one of it.
func TestPotsAsOnAShelf(t *testing.T) {
	_, faults := openFaulty("pots.yaml", `Big Tub: {holds: 20 L}
box: {shape: 24 x 8 x 7 in}
tub: {shape: round 14" top}
pail: 5 gal
bowl: round 30 cm top
vase: tall
`)
	assert.Equal(t, `content/pots.yaml:1:1: "Big Tub" is not an id
   Big Tub: {holds: 20 L}
   ^
  hint: use lower-case letters, digits and hyphens: "big-tub"
content/pots.yaml:2:14: "24 x 8 x 7 in" does not say which shape it is
   box: {shape: 24 x 8 x 7 in}
                ^
  hint: write the shape first: "trough 24 x 8 x 7 in" or "oval 24 x 8 x 7 in"
content/pots.yaml:3:22: inches are written with "in", not with a mark
   tub: {shape: round 14" top}
                        ^
  hint: write "round 14 in top"
content/pots.yaml:4:7: what a pot is stands behind a key
   pail: 5 gal
         ^
  hint: write "pail: {holds: 5 gal}"
content/pots.yaml:5:7: what a pot is stands behind a key
   bowl: round 30 cm top
         ^
  hint: write "bowl: {shape: round 30 cm top}"
content/pots.yaml:6:7: what a pot is stands behind a key
   vase: tall
         ^
  hint: write "shape: round 38 cm top 30 cm base 34 cm deep" or "holds: 20 L" below it
`, faults)
}

// TestPotByItsName: a name, or an id in capitals, leads to the id.
func TestPotByItsName(t *testing.T) {
	g := open(t, "pots.yaml", "blue-tub: {name: Blue tub, holds: 28 L}\n")
	for _, text := range []string{"Blue tub", "Blue-Tub", "BLUE TUB"} {
		_, err := g.Container(text)
		var fault *units.Fault
		require.ErrorAs(t, err, &fault)
		assert.Equal(t, []string{`write its id, "blue-tub"`}, fault.Hints)
	}
}

// TestFollows: what only follows from a fault in the grower's files is not said; what does not, is.
func TestFollows(t *testing.T) {
	at := diag.Whole("content/a.md")
	unknown := func(id string) diag.Diagnostic { return diag.Errorf(at, "unknown-pot", "unknown pot %q", id) }
	g, _ := openFaulty("pots.yaml", "blue-tub: {holds: 20}\nStair Tub: {holds: 40 L, count: 2}\n")
	assert.True(t, g.Faulty())
	for _, id := range []string{"blue-tub", "stair-tub-2"} {
		assert.True(t, g.Follows(unknown(id)), id)
	}
	assert.False(t, g.Follows(unknown("green-tub")))
	assert.False(t, g.Follows(diag.Errorf(at, "unknown-crop", "unknown crop %q", "blue-tub")))
	assert.False(t, g.Follows(diag.Errorf(at, "no-frost-date", "no frost")), "the handbook file has no fault")
	whole := open(t, "pots.yaml", "blue-tub: {holds: 20 L}\n")
	assert.False(t, whole.Faulty() || whole.Follows(unknown("stair-tub-1")))
	unreadable, _ := openFaulty("pots.yaml", "blue-tub: {holds: 20 L\n")
	assert.True(t, unreadable.Follows(unknown("blue-tub")))
	handbook, _ := openFaulty("handbook.yaml", "frost: April\n")
	assert.True(t, handbook.Follows(diag.Errorf(at, "no-frost-date", "no frost")))
}
