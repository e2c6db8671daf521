package calcblocks_test

import (
	"fmt"
	"math/big"

	"github.com/stretchr/testify/require"

	"trug/calcblocks/feed"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/solution"
)

// feedSolvers ask the block itself where a check has what it takes, and the arithmetic below it elsewhere.
var feedSolvers = []solver{
	{"liquid-feed", "n product water", "n", func(q question) answers {
		inLitre := solution.Product(q.base("product", "mass"), q.base("water", "volume"))
		return answers{"n": ratIn("mass/volume", inLitre.Mul(inLitre, q.base("n", "")))}
	}},
	{"liquid-feed", "product water", "concentration", func(q question) answers {
		return answers{"concentration": ratIn("mass/volume", solution.Product(q.base("product", "mass"), q.base("water", "volume")))}
	}},
	{"liquid-feed", "feed n", "n", func(q question) answers {
		return answers{"n": ratIn("mass", solution.In(q.base("feed", "volume"), q.base("n", "mass/volume")))}
	}},
	{"liquid-feed", "n target water", "product", func(q question) answers {
		return answers{"product": in("mass", feedOf(q, "water").Number("product_g"))}
	}},
	{"liquid-feed", "injector n target water", "product stock", func(q question) answers {
		out := feedOf(q, "water", fmt.Sprintf("injector: 1:%s", q.raw("injector")))
		return answers{"product": in("mass", out.Number("product_g")), "stock": in("mass/volume", out.Number("stock/g_per_l")/1000)}
	}},
	{"liquid-feed", "can n target", "product", func(q question) answers {
		return answers{"product": in("mass", feedOf(q, "can").Number("product_g"))}
	}},
	{"liquid-feed", "injector n stock target", "product stock_strength", func(q question) answers {
		out := feedOf(q, "stock", "stock: "+litres(q, "stock"), fmt.Sprintf("injector: 1:%s", q.raw("injector")))
		return answers{"product": in("mass", out.Number("stock/product_g")), "stock_strength": in("mass/volume", out.Number("stock/g_per_l")/1000)}
	}},
	{"liquid-feed", "can density n target", "mass volume", func(q question) answers {
		out := feedOf(q, "can", "form: liquid", "density: "+q.raw("density")+" g/mL")
		return answers{"mass": in("mass", out.Number("product_g")), "volume": in("volume", out.Number("product_ml"))}
	}},
}

// feedOf computes a feed block of a product with so much nitrogen, a strength and a volume of water.
func feedOf(q question, water string, more ...string) blocktest.Output {
	body := fmt.Sprintf("product: {n: %s}\nstrength: %s mg/L N\ncan: %s\n", q.raw("n"), q.raw("target"), litres(q, water))
	for _, line := range more {
		body += line + "\n"
	}
	out := blocktest.Compute(feed.Kind, blocktest.Input{Body: body})
	require.Empty(q.t, out.Printed())
	return out
}

// litres writes a volume as an author would.
func litres(q question, name string) string {
	return new(big.Rat).Quo(q.base(name, "volume"), big.NewRat(1000, 1)).FloatString(9) + " L"
}
