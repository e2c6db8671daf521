// Package calcblocks lists the kinds of block.
package calcblocks

import (
	"trug/calcblocks/balance"
	"trug/calcblocks/compost"
	"trug/calcblocks/dates"
	"trug/calcblocks/diary"
	"trug/calcblocks/feed"
	"trug/calcblocks/kit/block"
	"trug/calcblocks/mix"
	"trug/calcblocks/page"
	"trug/calcblocks/plan"
	"trug/calcblocks/reading"
	"trug/calcblocks/recipe"
	"trug/calcblocks/shopping"
	"trug/calcblocks/swap"
	"trug/calcblocks/topup"
	"trug/calcblocks/trial"
	"trug/calcblocks/weight"
)

// All returns the kinds in the order in which help lists them.
func All() []block.Kind {
	return []block.Kind{
		page.Kind,
		recipe.Kind,
		balance.Kind,
		swap.Kind,
		topup.Kind,
		weight.Kind,
		feed.Kind,
		compost.Kind,
		reading.Kind,
		trial.Kind,
		mix.Kind,
		diary.Kind,
		plan.Kind,
		shopping.Kind,
		dates.Kind,
	}
}

// Named returns the kind with a name.
func Named(name string) (block.Kind, bool) {
	for _, k := range All() {
		if k.Name == name {
			return k, true
		}
	}
	return block.Kind{}, false
}

// Names returns the names of all kinds.
func Names() []string {
	var out []string
	for _, k := range All() {
		out = append(out, k.Name)
	}
	return out
}
