package calcblocks_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
)

// TestATrialReadsTheDiary: the harvests of a diary block, pot by pot, are the values of a trial.
func TestATrialReadsTheDiary(t *testing.T) {
	trial, ok := calcblocks.Named("trial")
	require.True(t, ok)
	diary := ""
	for i, kilos := range []string{"1.2", "1.5", "1.1", "0.9", "1.0", "0.7"} {
		pot := string(rune('1' + i))
		diary += "- {on: 2027-05-01, pot: box-" + pot + ", did: planted, crop: tomato, plants: 1}\n"
		diary += "- {on: 2027-08-01, pot: box-" + pot + ", did: harvested, crop: tomato, yield: " + kilos + " kg}\n"
		diary += "- {on: 2027-09-01, pot: box-" + pot + ", did: harvested, crop: tomato, yield: 100 g}\n"
	}
	out := blocktest.Compute(trial, blocktest.Input{
		ID:    "kelp",
		Files: map[string]string{"pots.yaml": "box: {name: Box, holds: 20 L, count: 6}\n", "diary.yaml": diary},
		Body:  "season: 2027\ncrop: tomato\nunit: kg\ngroups:\n  kelp: {pots: [box-1, box-2, box-3]}\n  none: {pots: [box-4, box-5, box-6]}\n",
	}, calcblocks.All()...)
	require.Empty(t, out.Printed())
	assert.Equal(t, data.List{data.Number(1.3), data.Number(1.6), data.Number(1.2)}, out.Find("groups/kelp/values"))
	assert.InDelta(t, 4.1/3-2.9/3, out.Number("difference"), 1e-9)
	assert.EqualValues(t, "no verdict below 5 pots a side", out.Find("verdict"))
}
