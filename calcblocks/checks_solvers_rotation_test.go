package calcblocks_test

import (
	"strings"

	"github.com/stretchr/testify/require"

	"trug/calcblocks"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/rotation"
)

var rotationSolvers = []solver{
	{"rotation", "crop disease years_since", "verdict", afterDisease},
	{"rotation", "crop disease purpose years_since", "verdict", afterDisease},
	{"rotation", "before crop disease years_since", "verdict", func(q question) answers {
		before := rotation.FamilyOf(reference.Default(), q.text("before"))
		require.True(q.t, rotation.AfterDisease(before, q.text("disease")).Known, "the crop before is a host")
		return afterDisease(q)
	}},
	{"common-practice", "old_roots", "verdict", rootsLeft},
}

// afterDisease judges a crop so many years after a disease was seen in the mix.
func afterDisease(q question) answers {
	rest := rotation.AfterDisease(rotation.FamilyOf(reference.Default(), q.text("crop")), q.text("disease"))
	return answers{"verdict": ofText(rest.Verdict(int(q.plain("years_since"))))}
}

// rootsLeft asks the topup block for its steps: whether it has the roots picked out or leaves them.
func rootsLeft(q question) answers {
	word, _, _ := strings.Cut(q.text("old_roots"), " ")
	topup, _ := calcblocks.Named("topup")
	out := blocktest.Compute(topup, blocktest.Input{Body: "container: 60 L\ntake: 8 cm\nwith: yard-compost\nroots: " + word + "\n"})
	require.Empty(q.t, out.Printed())
	if strings.Contains(out.Text(), "they rot in place") && !strings.Contains(out.Text(), "Pick out the old roots") {
		return answers{"verdict": ofText("allowed")}
	}
	return answers{"verdict": ofText("pick them out")}
}
