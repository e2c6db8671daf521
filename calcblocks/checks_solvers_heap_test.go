package calcblocks_test

import (
	"fmt"

	"github.com/stretchr/testify/require"

	"trug/calcblocks/compost"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/elements"
	"trug/calcblocks/kit/heap"
)

// heapSolvers ask the block itself for blends.
var heapSolvers = []solver{
	{"compost-blend", "goal_cn grass grass_c grass_moisture grass_n leaves_c leaves_moisture leaves_n", "leaves", func(q question) answers {
		return answers{"leaves": in("mass", 1000*heapOf(q, "").Number("needed/kg"))}
	}},
	{"compost-blend", "goal_cn grass grass_c grass_moisture grass_n leaves_c leaves_moisture leaves_n", "verdict", func(q question) answers {
		if reached := heapOf(q, "").Find("needed/reached"); reached == data.Flag(false) {
			return answers{"verdict": ofText("impossible")}
		}
		return answers{"verdict": ofText("possible")}
	}},
	{"compost-blend", "grass grass_c grass_moisture grass_n leaves leaves_c leaves_moisture leaves_n", "cn", func(q question) answers {
		return answers{"cn": number(heapOf(q, "leaves").Number("c_to_n"))}
	}},
	{"compost-blend", "grass grass_c grass_moisture grass_n leaves leaves_c leaves_moisture leaves_n", "cn moisture too_wet", func(q question) answers {
		out := heapOf(q, "leaves")
		return answers{"cn": number(out.Number("c_to_n")), "moisture": number(out.Number("moisture_percent") / 100), "too_wet": ofFlag(out.Find("too_wet") == data.Flag(true))}
	}},
	{"compost-blend", "c cn", "n protein", func(q question) answers {
		m := heap.Material{Carbon: heap.Sure(q.plain("c")), CToN: heap.Sure(q.plain("cn")), Known: heap.CarbonAndRatio}.Complete()
		return answers{"n": number(m.Nitrogen.Typical), "protein": number(contained(m.Nitrogen.Typical, elements.Convert("N", "crude protein")))}
	}},
	{"compost-blend", "balance_cn c cn mass", "tied_up_n", func(q question) answers {
		m := heap.Material{Kg: heap.Sure(q.some("mass") / 1000), Carbon: heap.Sure(q.plain("c")), CToN: heap.Sure(q.plain("cn")), Known: heap.CarbonAndRatio}
		return answers{"tied_up_n": in("mass", heap.TiedUp(m.Complete().Nutrients(), q.plain("balance_cn"), heap.Sure(1)).Typical)}
	}},
}

// heapOf computes a heap of grass and leaves; leaves names the input of their weight, "" where it is solved
// for.
func heapOf(q question, leaves string) blocktest.Output {
	q.t.Helper()
	kg := func(name string) string { return fmt.Sprintf("weight: %g g", q.some(name)) }
	body := fmt.Sprintf("heap:\n  grass: {%s, moisture: %s %%, c: %s %%, n: %s %%}\n", kg("grass"), q.raw("grass_moisture"), q.raw("grass_c"), q.raw("grass_n"))
	dry := fmt.Sprintf("moisture: %s %%, c: %s %%, n: %s %%", q.raw("leaves_moisture"), q.raw("leaves_c"), q.raw("leaves_n"))
	if leaves == "" {
		body += "  leaves: {" + dry + "}\nwanted: " + q.raw("goal_cn") + "\n"
	} else {
		body += "  leaves: {" + kg(leaves) + ", " + dry + "}\n"
	}
	out := blocktest.Compute(compost.Kind, blocktest.Input{Body: body})
	require.Empty(q.t, out.Printed())
	return out
}
