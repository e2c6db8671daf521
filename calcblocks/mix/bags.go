package mix

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"trug/calcblocks/kit/renewal"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// A bag is a size on sale and how many of it a part takes.
type bag struct {
	name  string
	holds float64 // litres
	count int
	own   bool // a pack of the cupboard
}

// bags returns whole bags for the loose litres of a part, the smallest first: the cupboard's own packs by volume,
// then the sizes of the trade: cubic feet where US measures are in use, litres where others are (volumes.yaml,
// bags).
func (c *computation) bags(p laid) []bag {
	litres := p.loose.Typical / 1000
	var out []bag
	add := func(name string, holds float64, own bool) {
		if !slices.ContainsFunc(out, func(b bag) bool { return b.holds == holds }) {
			out = append(out, bag{name, holds, renewal.Bags(litres, holds), own})
		}
	}
	if p.material != nil {
		for _, pack := range p.material.Packs {
			if !pack.Holds.Weighed {
				holds := pack.Holds.Volume.Float() / 1000
				add(view.Number(holds)+" L", holds, true)
			}
		}
	}
	sets := c.pass.Garden.Handbook.Sets()
	if slices.Contains(sets, units.US) {
		c.onSale("cubic_feet", "cu ft", add)
	}
	if len(sets) > 1 || sets[0] != units.US {
		c.onSale("litres", "L", add)
	}
	slices.SortStableFunc(out, func(a, b bag) int {
		if a.holds < b.holds {
			return -1
		}
		return 1
	})
	return out
}

func (c *computation) onSale(key, unit string, add func(string, float64, bool)) {
	for i := 0; ; i++ {
		size, ok := c.pass.Ref.At("volumes", "bags", "sizes", key, strconv.Itoa(i))
		if !ok {
			return
		}
		name := view.Exact(size.Typical) + " " + unit
		v, err := c.pass.Garden.Values().Volume(name)
		if err != nil {
			panic(err) // a size of the reference
		}
		add(name, v.Float()/1000, false)
	}
}

// choices is the most bag sizes that a page names for one part.
const choices = 3

// bagText names the bags for a part: own packs, else for the fewest numbers of bags the smallest size of which so
// many are enough.
func bagText(bags []bag) string {
	var own, sale []string
	fewest := 0
	for _, b := range bags {
		text := fmt.Sprintf("%d x %s", b.count, b.name)
		switch {
		case b.own:
			own = append(own, text)
		case fewest == 0 || b.count < fewest:
			sale, fewest = append(sale, text), b.count
		}
	}
	if len(own) > 0 {
		return strings.Join(own, " or ")
	}
	if len(sale) > choices {
		sale = sale[len(sale)-choices:]
	}
	return strings.Join(sale, " or ")
}
