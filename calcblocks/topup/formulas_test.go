package topup_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/topup"
)

const box = "container: trough 50 x 40 x 20 cm\n" // 2 L a cm

// TestHeightsAtTheirEnds: mix may sink to the base, come out to the base, and be filled to a line just above it; below the
// base there is nothing.
func TestHeightsAtTheirEnds(t *testing.T) {
	for body, want := range map[string]struct {
		code       string
		room, fill float64
	}{
		"settled: 20 cm\n":                   {"", 40, 40},
		"settled: 19.5 cm\n":                 {"", 39, 40},
		"settled: 20.1 cm\n":                 {"settled-too-far", 0, 0},
		"settled: 5 cm\ntake: 15 cm\n":       {"", 40, 40},
		"settled: 5 cm\ntake: 14.5 cm\n":     {"", 39, 40},
		"settled: 5 cm\ntake: 15.1 cm\n":     {"take-too-much", 0, 0},
		"settled: 19.8 cm\nleave: 19.5 cm\n": {"", 0.6, 1},
		"settled: 19.8 cm\nleave: 20 cm\n":   {"leave-too-deep", 0, 0},
		"settled: 5 cm\nleave: 5 cm\n":       {"no-room", 0, 0},
	} {
		out := compute(box + "with: mix\n" + body)
		if want.code != "" {
			require.Len(t, out.Faults, 1, body)
			assert.Equal(t, want.code, out.Faults[0].Code, body)
			assert.Nil(t, out.Data)
			continue
		}
		require.Empty(t, out.Printed(), body)
		assert.InEpsilon(t, want.room, out.Number("room_litres"), 1e-9, body)
		assert.InEpsilon(t, want.fill, out.Number("fill_litres"), 1e-9, body)
	}
	measured := compute("container: 20 L\nwith: mix\nleave: 3 cm\n")
	require.Len(t, measured.Faults, 1)
	assert.Equal(t, "leave-without-rim", measured.Faults[0].Code, "of a bare volume the rim is not known")
}

// TestHowHighTheOldMixStands: half fresh of 40 L where 30 L are left takes 10 L out, and 20 L stand 10 cm high.
func TestHowHighTheOldMixStands(t *testing.T) {
	out := compute(box + "settled: 5 cm\nfresh: 50 %\nwith: yard-compost\n")
	assert.InEpsilon(t, 10, out.Number("old_mix_out_litres"), 1e-9)
	assert.Contains(t, strings.Join(strings.Fields(out.Text()), " "), "old mix, 20 L 0 to 10 50 cm")
}

// TestWeightOfCompost: 10 L firmed of compost weigh 10 to 11 kg watered (volumes.yaml, peat_or_compost_rich); as bought, loose
// by 0.645 to 0.952, they are 10.5 to 15.5 L.
func TestWeightOfCompost(t *testing.T) {
	out := compute(box + "settled: 5 cm\nwith: yard-compost\n")
	assert.InEpsilon(t, 10, out.Number("gained_kg/low"), 1e-9)
	assert.InEpsilon(t, 10.5, out.Number("gained_kg/typical"), 1e-9)
	assert.InEpsilon(t, 11, out.Number("gained_kg/high"), 1e-9)
	assert.InEpsilon(t, 12.5*0.59, out.Number("added_kg"), 1e-9, "0.59 kg/L as it is sold")
}

// TestWhatMayFillAPot: a compost, fresh mix, or a blend of one's own; not an amendment, and not what nobody knows.
func TestWhatMayFillAPot(t *testing.T) {
	files := map[string]string{"cupboard.yaml": "court-blend: {name: Court blend, label: {n: 1}, cup weighs: 140 g}\n"}
	for with, want := range map[string][2]string{
		"court-blend": {}, "mix": {}, "yard-compost": {}, "gypsum": {"not-a-compost", "write a compost, such as \"yard-compost\", or \"mix\"; amendments belong in a recipe"},
		"yard-compst": {"unknown-amendment", "did you mean \"yard-compost\"?"}, "marble": {"unknown-amendment", "write a compost of the cupboard or the reference, such as \"yard-compost\", or \"mix\""},
	} {
		out := blocktest.Compute(topup.Kind, blocktest.Input{Files: files, Body: box + "settled: 5 cm\nwith: " + with + "\n"})
		if want[0] == "" {
			assert.Empty(t, out.Printed(), with)
			continue
		}
		require.Len(t, out.Faults, 1, with)
		assert.Equal(t, want[0], out.Faults[0].Code, with)
		assert.Equal(t, []string{want[1]}, out.Faults[0].Hints, with)
	}
}

// TestBagsByTheMeasuresInUse: cubic feet where US measures are, litres where others are.
func TestBagsByTheMeasuresInUse(t *testing.T) {
	for measures, sizes := range map[string]int{"{main: us}": 6, "{main: metric}": 7, "{main: us, also: [metric]}": 13, "{main: metric, also: [us]}": 13} {
		files := map[string]string{"handbook.yaml": "title: Tanglewick Court\nmeasures: " + measures + "\n"}
		out := blocktest.Compute(topup.Kind, blocktest.Input{Files: files, Body: box + "settled: 5 cm\nwith: mix\n"})
		assert.Len(t, out.Find("bags").(data.List), sizes, measures)
	}
}

// TestVolumesCanBeDoneAgain: each volume of the working follows from the measures printed beside it, whatever the pot and
// however the old mix is told.
func TestVolumesCanBeDoneAgain(t *testing.T) {
	for _, body := range []string{
		"container: round 30 cm top 24 cm base 28 cm deep\nsettled: 4 cm\ntake: 5 cm\nwith: yard-compost\n",
		"container: trough 60 x 20 x 18 cm base 54 x 14 cm\nsettled: 4 cm\nfresh: 40 %\nwith: yard-compost\n",
		"container: oval 60 x 40 x 30 cm base 50 x 30 cm\nsettled: 9 cm\nfresh: 10 %\nwith: yard-compost\n",
		"container: 60 L\nwith: mix\n",
	} {
		out := compute(body)
		require.Empty(t, out.Printed())
		steps := 0
		for _, step := range out.Working {
			if strings.Contains(step.What, "up to") || slices.Contains([]string{"old mix out", "room", "loose, to buy"}, step.What) {
				got, printed, err := blocktest.Redo(step.Sum)
				require.NoError(t, err, step.Sum)
				assert.InDelta(t, printed, got, 1e-3*math.Abs(printed)+0.02, step.Sum)
				steps++
			}
		}
		assert.Equal(t, 6, steps, body)
	}
	roomy := compute("container: oval 60 x 40 x 30 cm base 50 x 30 cm\nsettled: 9 cm\nfresh: 10 %\nwith: yard-compost\n")
	assert.Contains(t, roomy.WorkingText(), "L: none comes out")
	assert.Zero(t, roomy.Number("old_mix_out_litres"))
}
