package calcblocks_test

import (
	"math"
	"regexp"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/units"
	"trug/calcblocks/kit/vessel"
)

var shapeSolvers = []solver{
	{"geometry", "base_radius height top_radius", "pi_coefficient volume", func(q question) answers {
		ml := brim(frustum(2*q.cm("top_radius"), 2*q.cm("base_radius"), q.cm("height")))
		return answers{"volume": in("volume", ml), "pi_coefficient": in("volume", ml/math.Pi)}
	}},
	{"geometry", "base_radius height top_radius", "volume", func(q question) answers {
		return answers{"volume": in("volume", brim(frustum(2*q.cm("top_radius"), 2*q.cm("base_radius"), q.cm("height"))))}
	}},
	{"geometry", "base_diameter height top_diameter", "error_of_mean_diameter", func(q question) answers {
		top, base, h := q.cm("top_diameter"), q.cm("base_diameter"), q.cm("height")
		mean := (top + base) / 2
		return answers{"error_of_mean_diameter": number(brim(frustum(mean, mean, h))/brim(frustum(top, base, h)) - 1)}
	}},
	{"geometry", "diameter height", "gallons volume", cylinder("height", "gallons", "volume")},
	{"geometry", "depth length width", "cubic_inches volume", box("depth", "cubic_inches", "volume")},
	{"geometry", "depth length width", "cubic_feet volume", box("depth", "cubic_feet", "volume")},
	{"geometry", "base_length base_width depth top_length top_width", "cubic_inches volume", tapered(vessel.Trough, "cubic_inches", "volume")},
	{"geometry", "base_length base_width depth top_length top_width", "cubic_inches gallons volume", tapered(vessel.Oval, "cubic_inches", "gallons", "volume")},
	{"geometry", "depth length width", "by_rule exact rule_error", func(q question) answers {
		length, width, depth := q.cm("length"), q.cm("width"), q.cm("depth")
		rule := 0.8 * brim(straight(vessel.Trough, length, width, depth))
		oval := brim(straight(vessel.Oval, length, width, depth))
		return answers{"by_rule": in("volume", rule), "exact": in("volume", oval), "rule_error": number(rule/oval - 1)}
	}},
}

var potSolvers = []solver{
	{"containers", "class cubic_inches", "volume", classRange("volume")},
	{"containers", "class cubic_inches", "dry_gallons volume", classRange("volume", "dry_gallons")},
	{"containers", "marked", "forbidden_assumption verdict", nominalSize},
	{"containers", "declared", "gallons", same("declared", "gallons")},
	{"containers", "diameter height", "cubic_feet volume", cylinder("height", "cubic_feet", "volume")},
	{"containers", "diameter height", "cubic_inches dry_quarts pots_per_cubic_foot", func(q question) answers {
		out := cylinder("height", "cubic_inches", "dry_quarts")(q)
		out["pots_per_cubic_foot"] = number(float(sure(simple("ft3")).factor) / float(out["cubic_inches"].values[0]))
		return out
	}},
	{"containers", "height length width", "cubic_inches dry_gallons", box("height", "cubic_inches", "dry_gallons")},
	{"containers", "mix pot pots", "brimful_pots fill fill_share", func(q question) answers {
		mix, pot, pots := q.volume("mix"), q.volume("pot"), q.base("pots", "")
		each := mix.Times(pots.Inv(pots))
		return answers{"brimful_pots": ratIn("", mix.Over(pot)), "fill": ofVolume(each), "fill_share": ratIn("", each.Over(pot))}
	}},
	{"containers", "base_diameter depth fill top_diameter", "brim_gallons brim_volume fill_diameter fill_gallons fill_volume", func(q question) answers {
		return partFill(q, q.cm("fill"))
	}},
	{"containers", "base_diameter depth headspace top_diameter", "brim_gallons brim_volume fill_diameter fill_gallons fill_volume", func(q question) answers {
		return partFill(q, q.cm("depth")-q.cm("headspace"))
	}},
	{"containers", "mass top_diameter wet_density", "volume", func(q question) answers {
		return answers{"volume": in("volume", units.Fill(q.mass("mass"), believed(q.perVolume("wet_density"))).Typical)}
	}},
	{"containers", "depth wet_density", "caution load mass_per_area pressure", func(q question) answers {
		const kgPerGram, m2PerCm2 = 1e-3, 1e-4
		load := vessel.Pressure(q.cm("depth")*q.perVolume("wet_density")*kgPerGram, m2PerCm2) // of a column on 1 cm2
		return answers{
			"load": in("pressure", load), "pressure": in("pressure", load), "caution": ofFlag(load > vessel.LoadCaution),
			"mass_per_area": in("mass/area", q.cm("depth")*q.perVolume("wet_density")),
		}
	}},
}

func frustum(top, base, depth float64) vessel.Vessel {
	return vessel.Vessel{Shape: vessel.Round, TopLength: top, TopWidth: top, BaseLength: base, BaseWidth: base, Depth: depth}
}

func straight(shape vessel.Shape, length, width, depth float64) vessel.Vessel {
	return vessel.Vessel{Shape: shape, TopLength: length, TopWidth: width, BaseLength: length, BaseWidth: width, Depth: depth}
}

func brim(v vessel.Vessel) float64 {
	ml, _ := v.BrimVolume()
	return ml
}

// volumes answers several outputs with one volume.
func volumes(ml float64, outputs []string) answers {
	out := answers{}
	for _, name := range outputs {
		out[name] = in("volume", ml)
	}
	return out
}

func cylinder(height string, outputs ...string) func(question) answers {
	return func(q question) answers {
		d := q.cm("diameter")
		return volumes(brim(frustum(d, d, q.cm(height))), outputs)
	}
}

func box(height string, outputs ...string) func(question) answers {
	return func(q question) answers {
		return volumes(brim(straight(vessel.Trough, q.cm("length"), q.cm("width"), q.cm(height))), outputs)
	}
}

func tapered(shape vessel.Shape, outputs ...string) func(question) answers {
	return func(q question) answers {
		v := straight(shape, q.cm("top_length"), q.cm("top_width"), q.cm("depth"))
		v.BaseLength, v.BaseWidth = q.cm("base_length"), q.cm("base_width")
		return volumes(brim(v), outputs)
	}
}

// partFill answers a tapered pot filled to a height, its brim, and its width there.
func partFill(q question, fill float64) answers {
	v, err := frustum(q.cm("top_diameter"), q.cm("base_diameter"), q.cm("depth")).WithFill(fill)
	require.NoError(q.t, err)
	filled, _ := v.FillVolume()
	out := volumes(filled, []string{"fill_volume", "fill_gallons"})
	out["brim_volume"], out["brim_gallons"] = in("volume", brim(v)), in("volume", brim(v))
	out["fill_diameter"] = in("length", v.WidthAt(fill))
	return out
}

// classRange reads a class as an author writes it and answers the end of its range.
func classRange(outputs ...string) func(question) answers {
	return func(q question) answers {
		v, err := vessel.Parse("nursery class "+q.text("class"), units.Parser{Set: units.US})
		require.NoError(q.t, err)
		low, high := v.FillVolume()
		ml := low
		if q.high {
			ml = high
		}
		assert.InEpsilon(q.t, q.volume("cubic_inches").Float(), ml, 1e-12, "the class is defined in cubic inches")
		return volumes(ml, outputs)
	}
}

var leadingVolume = regexp.MustCompile(`^\d+ \S+`)

// nominalSize gives a marked size to the reader of containers, which must refuse it and ask for litres. What
// the mark would be as a plain volume is what nobody may take it for.
func nominalSize(q question) answers {
	parser := units.Parser{Set: units.US}
	verdict := "taken as a volume"
	var fault *units.Fault
	if _, err := vessel.Parse(q.text("marked"), parser); err != nil {
		require.ErrorAs(q.t, err, &fault)
		require.Contains(q.t, fault.Hints[0], "measure the litres")
		verdict = "ask for measured litres"
	}
	plain := sure(parser.Volume(leadingVolume.FindString(q.text("marked"))))
	return answers{"verdict": ofText(verdict), "forbidden_assumption": ofVolume(plain)}
}
