package weight

import (
	"slices"

	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// A mix is a kind of mix as an author names it, with where the reference keeps its densities.
type mix struct {
	name string
	says string
}

// mixes lists the kinds of mix; the first is meant where none is named.
var mixes = []mix{
	{"ordinary", "peat, bark, compost and perlite"},
	{"light", "rich in bark or perlite"},
	{"heavy", "rich in peat or compost"},
	{"with-soil", "with mineral soil"},
}

// watered returns kg per litre after watering and draining (volumes.yaml, watered_weight_kg_per_l).
func (m mix) watered(lib *reference.Library) reference.Figure {
	at := func(key string) reference.Figure { return lib.Must("volumes", "watered_weight_kg_per_l", key) }
	switch m.name {
	case "light":
		return at("bark_or_perlite_rich")
	case "heavy":
		return at("peat_or_compost_rich")
	case "with-soil":
		return at("with_mineral_soil")
	}
	f := at("pick")
	f.Low, f.High = at("bark_or_perlite_rich").Low, at("peat_or_compost_rich").High
	return f
}

// dry returns kg per litre of dry mix with the keys of its sources: measured bark and peat, dry compost,
// loam (volumes.yaml, mix_components). For an ordinary mix it is the span at which the single dose of
// nitrogen is reckoned by volume (judging.yaml, single_dose_n_cap, derived).
func (m mix) dry(lib *reference.Library) (units.SomeDensity, []string) {
	component := func(id, end string) reference.Figure {
		return lib.Must("volumes", "mix_components", "densities_g_per_l", id, end)
	}
	porometer := func(id string) reference.Figure {
		return lib.Must("volumes", "mix_components", "porometer", "rows", id, "dry_g_per_ml")
	}
	switch m.name {
	case "light":
		bark, chips := porometer("pine-bark"), porometer("chipped-pine-residual-4.8-mm")
		return between(bark.Typical, chips.Typical), bark.Source
	case "heavy":
		peat, compost := porometer("sphagnum-peat"), component("compost", "high")
		return between(peat.Typical, compost.Typical/1000), slices.Concat(peat.Source, compost.Source)
	case "with-soil":
		low, high := component("loam", "low"), component("loam", "high")
		return between(low.Typical/1000, high.Typical/1000), low.Source
	}
	return between(0.15, 0.25), lib.Must("judging", "single_dose_n_cap", "the same limit by volume, at a dry bulk density of 0.15-0.25 kg/L", "g_n_per_l").Source
}

func between(low, high float64) units.SomeDensity {
	return units.SomeDensity{Low: low, Typical: (low + high) / 2, High: high}
}

// dripping returns kg per litre just after watering, before it drains: the ceiling of 1.1 for mixes
// without soil; with soil the upper end of watered (volumes.yaml, watered_weight_kg_per_l).
func (m mix) dripping(lib *reference.Library) float64 {
	if m.name == "with-soil" {
		return m.watered(lib).High
	}
	return lib.Number("volumes", "watered_weight_kg_per_l", "ceiling_dripping")
}
