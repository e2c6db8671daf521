package calcblocks_test

import (
	"math/big"
	"slices"
	"strings"

	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/reference"
)

var practiceSolvers = []solver{
	{"common-practice", "amount", "volume", same("amount", "volume")},
	{"common-practice", "material", "k2o n p2o5", func(q question) answers {
		a := amendmentNamed(q, q.text("material"))
		return answers{
			"n": percent(q, a.AsIs(reference.N)), "p2o5": percent(q, a.AsIs(reference.P2O5)), "k2o": percent(q, a.AsIs(reference.K2O)),
		}
	}},
}

// percent answers the typical value of a figure in percent, exactly as the reference writes it.
func percent(q question, f reference.Figure) answer {
	require.True(q.t, f.Known)
	require.Equal(q.t, "%", f.Unit)
	r := rational(f.Typical)
	return ratIn("", r.Quo(r, big.NewRat(100, 1)))
}

// amendmentNamed returns the amendment of the reference that has most words of a trade name among its own.
func amendmentNamed(q question, name string) *reference.Amendment {
	var best *reference.Amendment
	most := 0
	for _, a := range reference.Default().Amendments {
		own := wordsOf(strings.Join(append(slices.Clone(a.Also), a.Name), " "))
		n := 0
		for _, w := range wordsOf(name) {
			if slices.Contains(own, w) {
				n++
			}
		}
		if n > most {
			best, most = a, n
		}
	}
	require.NotNil(q.t, best, "no amendment is called %q", name)
	require.Equal(q.t, len(wordsOf(name)), most, "no amendment has all words of %q", name)
	return best
}

func wordsOf(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r < 'a' || r > 'z' })
}

// later lists what the finished topics still leave to later work.
var later = []laterWork{
	{"common-practice", "amount dose", "the program holds no usual dose of a material: the author's recipe says how much, and the recipe block scales it"},
	{"common-practice", "room", "the topup block adds the measured fall of the level to what is taken out; the check tells no fall and no container to take the usual share of"},
	{"common-practice", "order_from_below", "the recipe block writes the usual order of steps for its amendments"},
	{"common-practice", "cost", "the cost comes from a recipe with the prices of a cupboard"},
	{"containers", "dm hm index limit vm", "the weight block cautions against lifting and computes no lifting limit"},
	{"file-formats", "verdict", "the program writes feeds and site maps and does not judge those of others; its own are held to the standards where they are written"},
	{"mix-test", "factor", "for mineral soil by weight; mixes are read by volume, where it does not hold"},
	{"household-rounding", "caution", "the recipe block's guard on rounding speaks"},
}
