package topup

import (
	"slices"

	"trug/calcblocks/kit/renewal"
	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/view"
)

// weights returns kilograms: the fresh material as bought, the old mix taken out as watered, and what
// the pot gains once all of it is watered. Compost as bought weighs its loose volume x loose density;
// watered in the pot it weighs 1.0 to 1.1 kg a firmed litre, fresh and old mix 0.9, 0.6 to 1.1
// (volumes.yaml, watered_weight_kg_per_l).
func (c *computation) weights() (fresh, out, gain units.SomeMass) {
	watered := c.pass.Ref.Must("volumes", "watered_weight_kg_per_l", "pick")
	low := c.pass.Ref.Must("volumes", "watered_weight_kg_per_l", "bark_or_perlite_rich").Low
	high := c.pass.Ref.Must("volumes", "watered_weight_kg_per_l", "ceiling_dripping").High
	mix := func(litres float64) units.SomeMass {
		return units.SomeMass{Low: litres * low, Typical: litres * watered.Typical, High: litres * high}
	}
	fresh = mix(c.balance.NewMix)
	wet := fresh
	if c.material != nil {
		rich := c.pass.Ref.Must("volumes", "watered_weight_kg_per_l", "peat_or_compost_rich")
		firmed := c.balance.Compost
		wet = wet.Add(units.SomeMass{Low: firmed * rich.Low, Typical: firmed * rich.Typical, High: firmed * rich.High})
		litres, density := c.loose(c.balance.Compost), c.material.Density() // kg/L is g/mL
		fresh = fresh.Add(units.SomeMass{Low: litres.low * density.Low, Typical: litres.typical * density.Typical, High: litres.high * density.High})
	}
	out = mix(c.balance.Out)
	gain = units.SomeMass{Low: wet.Low - out.High, Typical: wet.Typical - out.Typical, High: wet.High - out.Low}
	return fresh, out, gain
}

// tieUp returns grams of nitrogen that old roots left in the mix tie up while they rot: root mass x 1000
// x C x (1/24 - 1/CN) x the share that decays in a season; C 0.45, C:N 35, 0.5 to 0.8 decayed (season.md,
// section 3.3, derived, weak). Dry roots are taken as 0.5 to 3 g, pick 1, per litre of old mix (from
// memory).
func (c *computation) tieUp() units.SomeMass {
	if !c.rootsLeft {
		return units.SomeMass{}
	}
	litres := c.balance.Left - c.balance.Out
	perGram := 0.45 * (1.0/24 - 1.0/35)
	return units.SomeMass{Low: litres * 0.5 * perGram * 0.5, Typical: litres * 1 * perGram * 0.65, High: litres * 3 * perGram * 0.8}
}

// A bag is a size on sale and how many of it are needed. Name is as the trade writes it.
type bag struct {
	name  string
	holds float64 // litres
	count int
	own   bool // a pack of the cupboard
}

// bags returns the number of whole bags for the loose volume to buy, compost and new mix each in bags of its
// own: the cupboard's own packs by volume, then the sizes usual in the trade: cubic feet where US measures
// are in use, litres where others are (volumes.yaml, bags).
func (c *computation) bags() []bag {
	compost, mix := c.beforeScreen(), c.loose(c.balance.NewMix).typical
	var out []bag
	add := func(name string, holds float64, own bool) {
		same := func(b bag) bool { return b.holds == holds }
		if !slices.ContainsFunc(out, same) {
			out = append(out, bag{name, holds, renewal.Bags(compost, holds) + renewal.Bags(mix, holds), own})
		}
	}
	if c.material != nil {
		for _, p := range c.material.Packs {
			if !p.Holds.Weighed {
				litres := p.Holds.Volume.Float() / 1000
				add(view.Number(litres)+" L", litres, true)
			}
		}
	}
	sets := c.pass.Garden.Handbook.Sets()
	if slices.Contains(sets, units.US) {
		for _, feet := range []string{"0.5", "0.75", "1", "1.5", "2", "3"} {
			add(feet+" cu ft", c.volumeOf(feet+" cu ft"), false)
		}
	}
	if len(sets) > 1 || sets[0] != units.US {
		for _, litres := range []float64{10, 20, 25, 40, 50, 60, 75} {
			add(view.Number(litres)+" L", litres, false)
		}
	}
	return out
}

func (c *computation) volumeOf(text string) float64 {
	v, err := c.pass.Garden.Values().Volume(text)
	if err != nil {
		panic(err) // a constant
	}
	return v.Float() / 1000
}
