package calcblocks_test

import (
	"fmt"
	"strings"

	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/ph"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/mix"
)

var mixSolvers = []solver{
	{"density", "air water", "total_porosity", func(q question) answers {
		return answers{"total_porosity": number(mix.TotalPorosity(q.plain("air"), q.plain("water")))}
	}},
	{"mix-test", "compost lime", "ph", func(q question) answers {
		x, ok := ph.Published(reference.Default()).At(1000*q.perVolume("lime"), 100*q.plain("compost"))
		require.True(q.t, ok)
		return answers{"ph": number(x)}
	}},
	{"mix-test", "compost_ec compost_share", "verdict", func(q question) answers {
		percent := 100 * q.plain("compost_share")
		out := mixed(q, fmt.Sprintf("make: 10 L\nparts: {peat: %g, compost: %g}\n", 100-percent, percent))
		said, _ := out.Find("cautions/compost-share/text").(data.Text)
		if strings.Contains(string(said), "test the salt") {
			return answers{"verdict": ofText("refused")}
		}
		return answers{"verdict": ofText("allowed")}
	}},
	{"mix-test", "rate", "rate", func(q question) answers {
		return answers{"rate": in("mass/volume", limeRate(q, "1000 L", q.raw("rate")+" lb/cu yd"))}
	}},
	{"mix-test", "lime mix", "rate rate_us", func(q question) answers {
		rate := in("mass/volume", limeRate(q, q.raw("mix")+" gal", q.raw("lime")+" oz"))
		return answers{"rate": rate, "rate_us": rate}
	}},
}

func mixed(q question, body string) blocktest.Output {
	q.t.Helper()
	out := blocktest.Compute(mix.Kind, blocktest.Input{ID: "check", Body: body})
	require.Empty(q.t, out.Printed(), body)
	return out
}

// limeRate returns the g/mL of a lime in a mix.
func limeRate(q question, litres, lime string) float64 {
	out := mixed(q, "make: "+litres+"\nparts: {peat: 1}\nlime: "+lime+"\n")
	return out.Number("amounts/dolomitic-lime/grams_per_litre/low") / 1000
}
