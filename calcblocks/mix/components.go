package mix

import (
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/units"
)

// A component is a part of a mix that is no amendment, with where the reference keeps its figures: a row of the
// porometer, measured as packed, or a density, loose.
type component struct {
	name, says         string
	porometer, density string
	dusty              bool // mineral dust
	soil               bool // sand and loam, whose grains hardly pack
}

// components lists the names that an author may write; composts and amendments have their own ids.
var components = []component{
	{name: "peat", says: "sphagnum peat", porometer: "sphagnum-peat"},
	{name: "bark", says: "pine bark", porometer: "pine-bark"},
	{name: "wood-chips", says: "chipped pine, 5 mm", porometer: "chipped-pine-residual-4.8-mm"},
	{name: "coarse-wood-chips", says: "chipped pine, 10 mm", porometer: "chipped-pine-residual-9.5-mm"},
	{name: "coir", says: "coir", density: "coir"},
	{name: "perlite", says: "perlite", density: "perlite", dusty: true},
	{name: "vermiculite", says: "vermiculite", density: "vermiculite", dusty: true},
	{name: "sand", says: "sharp sand", density: "sand", dusty: true, soil: true},
	{name: "loam", says: "loam", density: "loam", soil: true},
	{name: "bagged-mix", says: "bagged peat mix", density: "greenhouse-peat-mix"},
	{name: "compost", says: "compost of no kind named", density: "compost"},
}

func componentNamed(name string) *component {
	for i := range components {
		if components[i].name == name {
			return &components[i]
		}
	}
	return nil
}

func componentNames() []string {
	var out []string
	for _, c := range components {
		out = append(out, c.name)
	}
	return out
}

// dry returns the dry density in kg/L, and whether it was measured on packed material rather than loose
// (volumes.yaml, mix_components).
func (c component) dry(lib *reference.Library) (d units.SomeDensity, packed bool, sources []string) {
	if c.porometer != "" {
		f := lib.Must("volumes", "mix_components", "porometer", "rows", c.porometer, "dry_g_per_ml")
		return f.Density(), true, f.Source
	}
	f := lib.Must("volumes", "mix_components", "densities_g_per_l", c.density)
	return units.SomeDensity{Low: f.Low / 1000, Typical: f.Typical / 1000, High: f.High / 1000}, false, f.Source
}

// pores returns percent of air and of water after watering and draining, not known where nobody measured it.
func (c component) pores(lib *reference.Library) (air, water reference.Figure) {
	if c.porometer == "" {
		return air, water
	}
	row := func(key string) reference.Figure {
		return lib.Must("volumes", "mix_components", "porometer", "rows", c.porometer, key)
	}
	return row("air_percent"), row("water_at_capacity_percent")
}

// TotalPorosity returns the share of a volume that is not solid: what air and water fill after draining.
func TotalPorosity(air, water float64) float64 { return air + water }
