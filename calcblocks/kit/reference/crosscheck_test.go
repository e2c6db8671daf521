package reference

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/units"
)

// Standard atomic weights, IUPAC 2013 with the revisions to 2021 (the value of highest precision, or the
// conventional one where the standard is an interval).
var standardWeights = map[string]float64{
	"H": 1.008, "C": 12.011, "N": 14.007, "O": 15.999, "Na": 22.98976928, "Mg": 24.305, "P": 30.973761998,
	"S": 32.06, "Cl": 35.45, "K": 39.0983, "Ca": 40.078,
}

func TestAtomicWeightsAreTheStandardOnes(t *testing.T) {
	for element, w := range standardWeights {
		assert.InEpsilon(t, w, Default().Number("volumes", "atomic_weights", "values", element), 2e-5, element)
	}
}

// weigh returns the weight of a formula given as counts of atoms.
func weigh(atoms map[string]float64) float64 {
	sum := 0.0
	for element, n := range atoms {
		sum += n * Default().Number("volumes", "atomic_weights", "values", element)
	}
	return sum
}

// Element factors from the atomic weights, and the printed table of Virginia Cooperative Extension SPES-201,
// which agrees to a tenth of a percent (calcium sulfate to 0.3 %).
func TestElementFactorsFollowFromAtomicWeights(t *testing.T) {
	type atoms = map[string]float64
	p2o5, k2o, cao, mgo := atoms{"P": 2, "O": 5}, atoms{"K": 2, "O": 1}, atoms{"Ca": 1, "O": 1}, atoms{"Mg": 1, "O": 1}
	caco3, mgco3 := atoms{"Ca": 1, "C": 1, "O": 3}, atoms{"Mg": 1, "C": 1, "O": 3}
	k2so4, caso4 := atoms{"K": 2, "S": 1, "O": 4}, atoms{"Ca": 1, "S": 1, "O": 4}
	cases := []struct {
		name, published string
		part, whole     atoms
	}{
		{"P2O5 to P", "SPES-201", atoms{"P": 2}, p2o5},
		{"P to P2O5", "SPES-201", p2o5, atoms{"P": 2}},
		{"K2O to K", "SPES-201", atoms{"K": 2}, k2o},
		{"K to K2O", "SPES-201", k2o, atoms{"K": 2}},
		{"CaO to Ca", "SPES-201", atoms{"Ca": 1}, cao},
		{"Ca to CaO", "SPES-201", cao, atoms{"Ca": 1}},
		{"MgO to Mg", "SPES-201", atoms{"Mg": 1}, mgo},
		{"Mg to MgO", "SPES-201", mgo, atoms{"Mg": 1}},
		{"SO4 to S", "SPES-201", atoms{"S": 1}, atoms{"S": 1, "O": 4}},
		{"SO3 to S", "", atoms{"S": 1}, atoms{"S": 1, "O": 3}},
		{"MgCO3 to CaCO3 equivalent", "SPES-201", caco3, mgco3},
		{"CaCO3 to CaO", "SPES-201", cao, caco3},
		{"MgCO3 to MgO", "SPES-201", mgo, mgco3},
		{"KCl to K", "SPES-201", atoms{"K": 1}, atoms{"K": 1, "Cl": 1}},
		{"K2SO4 to K", "SPES-201", atoms{"K": 2}, k2so4},
		{"K2SO4 to S", "SPES-201", atoms{"S": 1}, k2so4},
		{"CaSO4 to Ca", "SPES-201", atoms{"Ca": 1}, caso4},
		{"CaSO4 to S", "SPES-201", atoms{"S": 1}, caso4},
		{"N to NH3", "SPES-201", atoms{"N": 1, "H": 3}, atoms{"N": 1}},
	}
	l := Default()
	for _, c := range cases {
		ours := l.Number("volumes", "element_factors", "factors", c.name, "factor")
		assert.InDelta(t, weigh(c.part)/weigh(c.whole), ours, 6e-7, c.name)
		printed, ok := l.At("volumes", "element_factors", "factors", c.name, "published")
		require.Equal(t, c.published != "", ok, c.name)
		if ok {
			assert.InEpsilon(t, printed.Typical, ours, 0.003, c.name)
		}
	}
}

// unitWords gives the word of package units for the ids of the fact file.
var unitWords = map[string]string{
	"cubic-inch": "cu in", "us-teaspoon": "us tsp", "us-tablespoon": "us tbsp", "us-fluid-ounce": "us fl oz",
	"us-cup": "us cup", "us-liquid-pint": "liquid pt", "us-liquid-quart": "liquid qt", "us-gallon": "gal",
	"us-dry-pint": "dry pt", "us-dry-quart": "dry qt", "us-dry-gallon": "dry gal", "us-bushel": "bushel",
	"cubic-foot": "cu ft", "cubic-yard": "cu yd", "uk-fluid-ounce": "uk fl oz", "uk-pint": "uk pt",
	"uk-quart": "uk qt", "uk-gallon": "uk gal",
}

// exact reads a number of a fact file as the fraction that its digits are.
func exact(t *testing.T, path ...string) *big.Rat {
	t.Helper()
	text, ok := Default().Text("volumes", path...)
	require.True(t, ok, path)
	r, ok := new(big.Rat).SetString(text)
	require.True(t, ok, text)
	return r
}

// Exact definitions: NIST SP 811 appendix B, NIST Handbook 44 appendix C, UCUM, by way of package units.
func TestVolumeUnitsAreExact(t *testing.T) {
	rows, ok := Default().walk("volumes", []string{"volume_units_ml"})
	require.True(t, ok)
	seen := 0
	for _, item := range rows.node().Items() {
		id := item.Mapping().Get("id").Raw()
		word, known := unitWords[id]
		if !known {
			assert.Contains(t, []string{"us-peck", "us-bushel-heaped", "trade-gallon"}, id)
			continue
		}
		seen++
		unit, ok := units.Lookup(word, units.US)
		require.True(t, ok, word)
		assert.Zero(t, unit.Factor.Cmp(exact(t, "volume_units_ml", id, "ml")), id)
		if seven, ok := Default().At("volumes", "seven_figure_m3", "values", id); ok {
			ml, _ := unit.Factor.Float64()
			assert.InEpsilon(t, ml*1e-6, seven.Typical, 4e-7, "%s, the seven figures of NIST SP 811", id)
		}
	}
	assert.Equal(t, len(unitWords), seen)
	bushel := exact(t, "volume_units_ml", "us-bushel", "ml")
	assert.Zero(t, new(big.Rat).Mul(bushel, big.NewRat(1, 4)).Cmp(exact(t, "volume_units_ml", "us-peck", "ml")))
	inches := exact(t, "volume_units_ml", "us-bushel-heaped", "cubic_inches")
	cubicInch := exact(t, "volume_units_ml", "cubic-inch", "ml")
	assert.Zero(t, inches.Mul(inches, cubicInch).Cmp(exact(t, "volume_units_ml", "us-bushel-heaped", "ml")))
}

func TestMassUnitsAreExact(t *testing.T) {
	for id, word := range map[string]string{"ounce": "oz", "pound": "lb", "short-ton": "short ton"} {
		unit, ok := units.Lookup(word, units.US)
		require.True(t, ok, word)
		assert.Zero(t, unit.Factor.Cmp(exact(t, "mass_units_g", id, "g")), id)
	}
}

// Spoon sets: US customary, metric, UK, Australian (AS 1325), and the label set of 21 CFR 101.9.
func TestMeasureSetsAgreeWithTheUnits(t *testing.T) {
	for name, set := range map[string]units.Set{
		"us": units.US, "metric": units.Metric, "uk": units.UK, "australian": units.Australian, "us-label": units.Label,
	} {
		assert.Zero(t, set.Cup().Rat().Cmp(exact(t, "measure_sets", name, "cup")), name)
		assert.Zero(t, set.Tablespoon().Rat().Cmp(exact(t, "measure_sets", name, "tbsp")), name)
		assert.Zero(t, set.Teaspoon().Rat().Cmp(exact(t, "measure_sets", name, "tsp")), name)
		if oz, ok := set.FluidOunce(); ok {
			assert.Zero(t, oz.Rat().Cmp(exact(t, "measure_sets", name, "fl_oz")), name)
		}
	}
}

// Doses per volume, from the exact units.
func TestRateConversionsFollowFromTheUnits(t *testing.T) {
	f := factor
	for name, want := range map[string]float64{
		"lb/ft3 to g/L": f("lb") / f("cu ft") * 1000, "lb/yd3 to g/L": f("lb") / f("cu yd") * 1000,
		"oz/ft3 to g/L": f("oz") / f("cu ft") * 1000, "oz/gal to g/L": f("oz") / f("gal") * 1000,
		"lb/bushel to g/L": f("lb") / f("bushel") * 1000, "lb/ft2 to kg/m2": f("lb") / 1000 / f("sq ft") * 1e4,
		"lb/ft2 to kPa": f("lb/sq ft"), "lb/100ft2 to g/m2": f("lb") / (100 * f("sq ft")) * 1e4,
		"tbsp/gal to mL/L": f("us tbsp") / f("gal") * 1000, "cup/ft3 to mL/L": f("us cup") / f("cu ft") * 1000,
	} {
		assert.InEpsilon(t, want, Default().Number("volumes", "rate_conversions", name, "factor"), 1e-5, name)
	}
	// 1 in of mix of 1 kg/L on 1 ft2 weighs 144 in3 x 16.387064 mL: 5.2023 lb
	assert.InEpsilon(t, 144*f("cu in")/f("lb"), Default().Number("volumes", "footprint_load", "constant"), 1e-5)
}

// ANSI Z60.1 gives the classes in cubic inches; 1 in3 = 16.387064 mL exactly.
func TestNurseryLitresFollowFromCubicInches(t *testing.T) {
	l := Default()
	for _, class := range []string{"#1", "#2", "#3", "#5", "#7", "#10", "#15", "#20", "#25"} {
		inches, ok := l.At("volumes", "nursery_classes", "classes", class, "cubic_inches")
		require.True(t, ok, class)
		printed, ok := l.At("volumes", "nursery_classes", "classes", class, "litres")
		require.True(t, ok, class)
		c, ok := l.Container("nursery-class-" + class[1:])
		require.True(t, ok, class)
		assert.InDelta(t, inches.Low*16.387064/1000, c.Volume.Low, 1e-9, class)
		assert.InDelta(t, inches.High*16.387064/1000, c.Volume.High, 1e-9, class)
		assert.InDelta(t, printed.Low, c.Volume.Low, 0.006, class)
		assert.InDelta(t, printed.High, c.Volume.High, 0.006, class)
		assert.True(t, c.Volume.RangeOnly, "a class is a span")
	}
}

// Volumes of frustum, box and cylinder (Euclid XII; Heron, Metrica II) against the printed litres.
func TestContainerVolumesFollowFromTheirShapes(t *testing.T) {
	checked := 0
	for _, c := range Default().Containers {
		var litres float64
		top, base, h := c.Top.Typical, c.Base.Typical, c.Height.Typical
		switch {
		case c.Shape == "frustum" && c.Base.Known:
			litres = math.Pi / 12 * h * (top*top + top*base + base*base) / 1000
		case c.Shape == "box":
			litres = c.Length.Typical * c.Width.Typical * h / 1000
		case c.Shape == "tapered-box":
			l, w, bl, bw := c.Length.Typical, c.Width.Typical, c.BaseLength.Typical, c.BaseWidth.Typical
			litres = h / 6 * (l*w + bl*bw + (l+bl)*(w+bw)) / 1000
		case c.Kind == FabricBag && !c.Top.RangeOnly:
			litres = math.Pi / 4 * top * top * h / 1000
		default:
			continue
		}
		checked++
		assert.InEpsilon(t, litres, c.Volume.Typical, 0.007, c.ID)
	}
	assert.Equal(t, 10, checked)
}

func TestBagsHoldWhatTheySay(t *testing.T) {
	for id, litres := range map[string]float64{"bag-2-cu-ft": 56.633693184, "bag-16-dry-qt": 17.61953508344, "bag-50-l": 50, "bag-1-5-cu-ft": 42.475269888} {
		c, ok := Default().Container(id)
		require.True(t, ok, id)
		assert.InDelta(t, litres, c.Volume.Typical, 1e-9, id)
	}
}

// The Maas-Hoffman line (1977) reaches 10 % yield loss at a + 10/b.
func TestTenPercentLossFollowsFromTheLine(t *testing.T) {
	l := Default()
	for _, crop := range []string{"bean", "carrot", "tomato", "zucchini", "beet", "lettuce"} {
		row := []string{"salinity_table", "rows", crop}
		a := l.Number("judging", append(row, "a")...)
		b := l.Number("judging", append(row, "b")...)
		assert.InDelta(t, a+10/b, l.Number("judging", append(row, "loss_10")...), 0.051, crop)
	}
}
