package solution_test

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"

	"trug/calcblocks/kit/solution"
)

func r(s string) *big.Rat {
	x, _ := new(big.Rat).SetString(s)
	return x
}

// TestRoundTrip: what gives a strength gives it back, and a stock thinned by its injector is the feed.
func TestRoundTrip(t *testing.T) {
	for _, share := range []string{"0.2", "0.15", "1/3", "0.005"} {
		product := solution.Product(r("123.4"), r(share))
		assert.Zero(t, new(big.Rat).Mul(product, r(share)).Cmp(r("123.4")), "exact")
		assert.Zero(t, new(big.Rat).Quo(solution.Stock(product, r("100")), r("100")).Cmp(product))
	}
	assert.Zero(t, solution.In(r("10"), solution.Product(r("200"), r("0.2"))).Cmp(r("10000")), "10 L of 200 mg/L N from 20 %: 10 g")
}
