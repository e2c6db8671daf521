package reference

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/sources"
)

func amendment(t *testing.T, id string) *Amendment {
	t.Helper()
	a, ok := Default().Amendment(id)
	require.True(t, ok, id)
	return a
}

// A label states available P2O5 (12 to 18 % in bone meal), a Texas garden guide the total, 27 %.
func TestTotalAndAvailableAreKeptApart(t *testing.T) {
	bone := amendment(t, "bone-meal-steamed")
	assert.Equal(t, 16.0, bone.Analysis[P2O5].Typical)
	assert.Equal(t, 27.0, bone.Totals[P2O5].Typical)
	assert.Equal(t, []string{"tamu-garden-guide"}, bone.Totals[P2O5].Source)
	assert.Equal(t, 27.0, bone.TotalAsIs(P2O5).Typical)
	assert.False(t, bone.TotalAsIs(K2O).Known, "no total where it does not differ")
	for _, a := range Default().Amendments {
		for n, total := range a.Totals {
			assert.Contains(t, []Nutrient{P2O5, K2O}, n, a.ID)
			assert.GreaterOrEqual(t, total.Typical, a.Analysis[n].Typical, a.ID)
		}
	}
}

// Yard compost: 1.5 % N of dry weight, 58 % dry matter: 0.87 % of what is in the bag.
func TestDryAndAsIsAreKeptApart(t *testing.T) {
	compost := amendment(t, "yard-compost")
	require.Equal(t, "dry", compost.Basis)
	assert.Equal(t, 1.5, compost.Analysis[N].Typical)
	assert.Equal(t, "dry weight", compost.Analysis[N].Basis)
	moist := compost.AsIs(N)
	assert.InDelta(t, 1.5*0.58, moist.Typical, 1e-12)
	assert.InDelta(t, compost.Analysis[N].Low*0.58, moist.Low, 1e-12)
	assert.Equal(t, "the material as it is", moist.Basis)
	assert.Equal(t, sources.Derived, moist.Confidence)
	assert.Contains(t, moist.Source, "planning-values", "the dry matter has a source too")
	assert.Empty(t, moist.lacks())

	alfalfa := amendment(t, "alfalfa-meal")
	assert.Equal(t, alfalfa.Analysis[N], alfalfa.AsIs(N), "as sold already")
}

func TestNullIsNeverZero(t *testing.T) {
	greensand := amendment(t, "greensand")
	assert.False(t, greensand.AsIs(S).Known)
	assert.False(t, greensand.Analysis[S].Known)
	assert.True(t, greensand.AsIs(K2O).Known)
	assert.Zero(t, greensand.AsIs(K2O).Typical, "nothing soluble is a figure: zero")
	alfalfa := amendment(t, "alfalfa-meal")
	assert.False(t, alfalfa.LimeValue.Known)
	assert.False(t, alfalfa.Release.Week2.Known)
	assert.False(t, alfalfa.PRelease.Known)
	dry := &Amendment{Basis: "dry", DryMatter: Figure{Known: true, Unit: "%", Low: 50, Typical: 50, High: 50}}
	assert.False(t, dry.AsIs(S).Known, "unknown times dry matter stays unknown")
}

func TestReleaseFigures(t *testing.T) {
	blood := amendment(t, "blood-meal").Release
	assert.True(t, blood.Week2.RangeOnly)
	assert.Equal(t, 53.5, blood.Week2.Typical)
	assert.Equal(t, "organic nitrogen", blood.Week2.Basis)
	assert.Equal(t, "total nitrogen", blood.Week12.Basis)
	assert.Equal(t, "total nitrogen", blood.FirstSeason.Basis)
	assert.Equal(t, Figure{
		Known: true, Low: 10, Typical: 17.5, High: 25, RangeOnly: true, Unit: "C", Basis: "soil of the release tests",
		Source: []string{"hartz-johnstone-2006", "lazicki-2020"}, Confidence: sources.SecondHand,
	}, blood.Temperature)
	manure := amendment(t, "cattle-manure-compost").Release
	assert.Equal(t, "organic nitrogen", manure.Week12.Basis)
	compost := amendment(t, "yard-compost").Release
	assert.True(t, compost.Week12.OpenLow, "tie-up of a size that is not stated")
	assert.Negative(t, compost.FirstSeason.Low, "tie-up is negative nitrogen, not zero")
}

// First-season factors of a New York organic guide: pelleted poultry manure P2O5 80 %, K2O 90 %; composted
// dairy manure 10 of 12 lb P2O5 and 23 of 26 lb K2O.
func TestPotashAndPhosphateRelease(t *testing.T) {
	pellets := amendment(t, "poultry-manure-pellets")
	assert.Equal(t, 80.0, pellets.PRelease.Typical)
	assert.Equal(t, []string{"ny-organic-guide"}, pellets.PRelease.Source)
	assert.Equal(t, sources.SecondHand, pellets.KRelease.Confidence)
	cattle := amendment(t, "cattle-manure-compost")
	assert.InDelta(t, 100.0*10/12, cattle.PRelease.Typical, 0.5)
	assert.InDelta(t, 100.0*23/26, cattle.KRelease.Typical, 0.5)
	assert.Equal(t, sources.Derived, cattle.KRelease.Confidence)
	rock := amendment(t, "greensand")
	assert.True(t, rock.KRelease.Known)
	assert.Zero(t, rock.KRelease.Typical)
	assert.Equal(t, sources.FromMemory, rock.KRelease.Confidence)
}

// Limits were turned from the rates of their text: 10 lb/yd3 x 0.593276, 4 lb/100 ft2 x 48.82428.
func TestLimitsFollowFromTheirText(t *testing.T) {
	l := Default()
	perYard := l.Number("volumes", "rate_conversions", "lb/yd3 to g/L", "factor")
	perFeet := l.Number("volumes", "rate_conversions", "lb/100ft2 to g/m2", "factor")
	assert.InDelta(t, 10*perYard, amendment(t, "alfalfa-meal").Limit.GramsPerLitre.Typical, 0.005)
	assert.InDelta(t, 4*perFeet, amendment(t, "blood-meal").Limit.GramsPerM2.Typical, 0.5)
	ash := amendment(t, "wood-ash").Limit
	assert.Equal(t, l.Number("judging", "wood_ash", "cap", "g_per_m2_year"), ash.GramsPerM2.Typical)
	assert.Equal(t, l.Number("judging", "wood_ash", "cap", "exact"), ash.GramsPerLitre.Typical)
	compost := amendment(t, "yard-compost").Limit
	assert.Equal(t, l.Number("judging", "compost_limits", "share_by_volume_percent", "warn_above"), compost.PercentOfMix.Typical)
	assert.False(t, amendment(t, "neem-seed-meal").Limit.GramsPerLitre.Known)
}

func TestNutrientNames(t *testing.T) {
	assert.Equal(t, []string{"N", "P2O5", "K2O", "Ca", "Mg", "S"}, ids(Nutrients, Nutrient.Symbol))
	assert.Equal(t, []string{"nitrogen", "phosphate", "potash", "calcium", "magnesium", "sulfur"}, ids(Nutrients, Nutrient.Name))
	assert.Equal(t, "b", Nutrient("b").Symbol(), "another word stays as it is")
}

func TestCautionsApply(t *testing.T) {
	l := Default()
	named := func(id string) []string {
		var out []string
		for _, c := range l.Cautions {
			if c.Applies(amendment(t, id)) {
				out = append(out, c.ID)
			}
		}
		return out
	}
	assert.Subset(t, named("wood-ash"), []string{"ash-caustic", "ash-origin", "ash-embers", "ash-with-nitrogen"})
	assert.Contains(t, named("blood-meal"), "pets-and-meals")
	assert.Contains(t, named("dolomitic-lime"), "lime-kind")
	assert.NotContains(t, named("gypsum"), "ash-caustic")
	always := 0
	for _, c := range l.Cautions {
		if c.Always {
			always++
		}
	}
	assert.Equal(t, 2, always, "Legionella, and the label")
}
