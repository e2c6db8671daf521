package calcblocks_test

import (
	"math/big"

	"trug/calcblocks/kit/renewal"
)

var coverSolvers = []solver{
	{"depth-and-cover", "depth volume", "area", func(q question) answers {
		return answers{"area": ratIn("area", new(big.Rat).Quo(q.base("volume", "volume"), q.base("depth", "length")))}
	}},
	{"depth-and-cover", "bag", "volume", same("bag", "volume")},
	{"depth-and-cover", "area bag depth", "bags", func(q question) answers {
		return answers{"bags": number(float64(renewal.Bags(layer(q).Float(), q.volume("bag").Float())))}
	}},
	{"depth-and-cover", "depth diameter", "cubic_inches cups volume", cylinder("depth", "cubic_inches", "cups", "volume")},
	{"depth-and-cover", "depth length width", "cubic_feet", box("depth", "cubic_feet")},
	{"depth-and-cover", "depth length width", "cubic_feet cubic_yards", box("depth", "cubic_feet", "cubic_yards")},
	{"depth-and-cover", "depth length width", "cubic_feet cubic_yards volume", box("depth", "cubic_feet", "cubic_yards", "volume")},
	{"depth-and-cover", "depth length width", "volume", box("depth", "volume")},

	{
		"renewal", "compost_share fill firming settled_share",
		"balance compost_firmed compost_loose new_mix_firmed new_mix_loose new_share remove_old", renew,
	},
	{"renewal", "share years", "original", func(q question) answers {
		return answers{"original": number(renewal.OriginalLeft(q.plain("share"), int(q.plain("years"))))}
	}},
	{"renewal", "declared reference", "fills", func(q question) answers {
		return answers{"fills": in("volume", q.some("declared")/renewal.Loose(1, q.plain("reference")))}
	}},
	{"renewal", "firming pot", "buy", func(q question) answers {
		return answers{"buy": in("volume", renewal.Loose(q.some("pot"), q.plain("firming")))}
	}},
}

func renew(q question) answers {
	b := renewal.Renew(q.some("fill")/1000, q.plain("settled_share"), q.plain("compost_share"))
	firming := q.plain("firming")
	litres := func(x float64) answer { return in("volume", x*1000) }
	return answers{
		"remove_old": litres(b.Out), "compost_firmed": litres(b.Compost), "new_mix_firmed": litres(b.NewMix),
		"compost_loose": litres(renewal.Loose(b.Compost, firming)), "new_mix_loose": litres(renewal.Loose(b.NewMix, firming)),
		"new_share": number(b.FreshShare()), "balance": litres(b.Refilled()),
	}
}
