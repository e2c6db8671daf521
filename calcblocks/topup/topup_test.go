package topup_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/topup"
)

func TestCases(t *testing.T) { blocktest.Run(t, topup.Kind) }

func compute(body string) blocktest.Output {
	return blocktest.Compute(topup.Kind, blocktest.Input{Body: body})
}

// TestKeys: the keys that others rely on are there, each with a number or a list of them.
func TestKeys(t *testing.T) {
	out := compute("container: round 30 cm top 24 cm base 28 cm deep\nsettled: 4 cm\nwith: yard-compost\n")
	require.Empty(t, out.Printed())
	for _, path := range []string{
		"old_mix_out_litres", "room_litres", "compost_litres/firmed", "compost_litres/loose", "compost_before_screen_litres",
		"fresh_share_percent", "original_left_percent/1", "bags/1/holds_litres", "bags/1/count", "added_kg",
	} {
		assert.IsType(t, data.Number(0), out.Find(path), path)
	}
	for _, key := range []string{"id", "kind", "title", "stamp", "cautions", "sources"} {
		assert.NotNil(t, out.Data.Get(key), key)
	}
	assert.Equal(t, data.Null{}, out.Find("id"), "a block without an id has none")
}

// TestMeanDiameterIsWrong shows by how much the shortcut misses: the upper 8 cm of a pot of 60 to 24 cm across
// and 40 cm deep hold pi/12 x 8 x (60^2 + 60 x 52.8 + 52.8^2) = 20.01 L; 8 cm at the mean of 42 cm are 11.08 L,
// 45 % less.
func TestMeanDiameterIsWrong(t *testing.T) {
	out := compute("container: round 60 cm top 24 cm base 40 cm deep\nsettled: 8 cm\nwith: yard-compost\n")
	room := out.Number("room_litres")
	assert.InEpsilon(t, math.Pi/12*8*(3600+60*52.8+52.8*52.8)/1000, room, 1e-9)
	shortcut := math.Pi / 4 * 42 * 42 * 8 / 1000
	assert.InDelta(t, -0.446, shortcut/room-1, 0.001)
}

// TestPartFillsAddUp: two years' layers are the layer of both.
func TestPartFillsAddUp(t *testing.T) {
	room := func(settled, leave float64) float64 {
		return compute(fmt.Sprintf("container: round 40 cm top 25 cm base 36 cm deep\nsettled: %g cm\nleave: %g cm\nwith: mix\n", settled, leave)).Number("room_litres")
	}
	assert.InEpsilon(t, room(9, 0.001), room(9, 4)+room(4, 0.001), 1e-9, "9 cm are the lower 5 and the upper 4")
}

// TestHeadspace: what is left free is not filled, and a pot that stays full to its line has no room.
func TestHeadspace(t *testing.T) {
	out := compute("container: trough 50 x 40 x 20 cm\nsettled: 5 cm\nleave: 2 cm\nwith: yard-compost\n")
	assert.InEpsilon(t, 36, out.Number("fill_litres"), 1e-12)
	assert.InEpsilon(t, 6, out.Number("room_litres"), 1e-12)
	full := compute("container: trough 50 x 40 x 20 cm\nsettled: 2 cm\nleave: 2 cm\nwith: yard-compost\n")
	require.Len(t, full.Faults, 1)
	assert.Equal(t, "no-room", full.Faults[0].Code)
	// Old mix above the line must come out before anything goes in: by share, 25 % of 36 L and the 2 L above.
	out = compute("container: trough 50 x 40 x 20 cm\nsettled: 1 cm\nleave: 2 cm\nfresh: 25 %\nwith: yard-compost\n")
	assert.InEpsilon(t, 11, out.Number("old_mix_out_litres"), 1e-9)
	assert.InEpsilon(t, 9, out.Number("compost_litres/firmed"), 1e-9)
}

// TestRoots: taken out they tie up nothing, and where nobody told it is not known.
func TestRoots(t *testing.T) {
	tied := func(line string) data.Value {
		return compute("container: 20 L\nwith: mix\nsettled: 3 cm\n" + line).Find("n_tied_up_g")
	}
	assert.Equal(t, data.Null{}, tied(""))
	for _, f := range tied("roots: taken\n").(data.Object) {
		assert.Equal(t, data.Number(0), f.Value, f.Key)
	}
	left := tied("roots: left\n").(data.Object)
	assert.Less(t, left.Get("low"), left.Get("typical"))
	assert.Less(t, left.Get("typical"), left.Get("high"))
}

// TestWeightOfNewMix: 10 L of room with mix are 12.5 L loose in the bags and 9 kg in the pot, 6 to 11.
func TestWeightOfNewMix(t *testing.T) {
	out := compute("container: trough 50 x 40 x 20 cm\nsettled: 5 cm\nwith: mix\n")
	assert.InEpsilon(t, 9, out.Number("added_kg"), 1e-12)
	assert.InEpsilon(t, 6, out.Number("gained_kg/low"), 1e-12)
	assert.InEpsilon(t, 11, out.Number("gained_kg/high"), 1e-12)
}

// TestCautionsOfATopup: what the work calls for, and the compost's own share.
func TestCautionsOfATopup(t *testing.T) {
	ids := compute("container: trough 50 x 40 x 20 cm\nsettled: 5 cm\nwith: yard-compost\n").Cautions("")
	for _, id := range []string{"legionella-in-mix", "lifting", "containers-food", "herbicide-residue", "label-and-law"} {
		assert.Contains(t, ids, id)
	}
	assert.NotContains(t, ids, "compost-share", "25 % is usual")
	assert.NotContains(t, ids, "discarded-mix", "nothing comes out")
	ids = compute("container: trough 50 x 40 x 20 cm\nsettled: 5 cm\ntake: 2 cm\nwith: yard-compost\n").Cautions("")
	assert.Contains(t, ids, "compost-share", "7 of 20 cm are 35 %")
	assert.Contains(t, ids, "discarded-mix")
	ids = compute("container: trough 50 x 40 x 20 cm\nsettled: 8 cm\nwith: mix\n").Cautions("")
	assert.NotContains(t, ids, "compost-share", "new mix is no compost")
	assert.NotContains(t, ids, "herbicide-residue")
}

// TestAskedFor: a reader's own pot takes the place of the block's.
func TestAskedFor(t *testing.T) {
	out := blocktest.Compute(topup.Kind, blocktest.Input{Body: "container: 20 L\nsettled: 5 cm\nwith: mix\n", For: "trough 50 x 40 x 20 cm"})
	assert.InEpsilon(t, 10, out.Number("room_litres"), 1e-12)
	out = blocktest.Compute(topup.Kind, blocktest.Input{Body: "container: 20 L\nsettled: 5 cm\nwith: mix\n", For: "nowhere"})
	require.Len(t, out.Faults, 1)
	assert.Equal(t, "bad-container", out.Faults[0].Code)
}
