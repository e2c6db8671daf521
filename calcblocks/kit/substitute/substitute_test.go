package substitute_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/substitute"
	"trug/calcblocks/kit/units"
)

const cupboard = `
wood-ash: {packs: [{holds: 1 kg, price: 1.00}]}
langbeinite: {packs: [{holds: 1 kg, price: 6.00}]}
salt-blend: {name: Salt blend, label: {n: 0, p2o5: 0, k2o: 12}, cup weighs: 200 g}
plain-blend: {name: Plain blend, label: {n: 3}, cup weighs: 100 g}
`

var (
	lib   = reference.Default()
	shelf = blocktest.Open(map[string]string{"cupboard.yaml": cupboard}, &diag.List{})
)

func material(t require.TestingT, id string) *garden.Material {
	m, ok := shelf.Material(id)
	require.True(t, ok, id)
	return m
}

func grams(x float64) units.SomeMass { return units.SomeMass{Low: x, Typical: x, High: x} }

func find(t require.TestingT, all []substitute.Substitute, id string) substitute.Substitute {
	for _, s := range all {
		if s.Material.ID == id {
			return s
		}
	}
	require.Fail(t, "no substitute "+id)
	return substitute.Substitute{}
}

// TestByHand: 100 g of wood ash (6 % K2O, all of it available) hold 6 g K2O, as 50 g of a blend of 12 %.
func TestByHand(t *testing.T) {
	ash, blend := material(t, "wood-ash"), material(t, "salt-blend")
	require.InDelta(t, 6, ash.Content(reference.K2O).Typical, 1e-12)
	own := substitute.Of(lib, ash, reference.K2O).Value.Typical
	all := substitute.For(lib, shelf, ash, grams(100), reference.K2O)
	s := find(t, all, "salt-blend")
	assert.InDelta(t, 100*own/0.12, s.Mass.Typical, 1e-9)
	assert.True(t, s.InCupboard)
	assert.InDelta(t, s.Mass.Typical*0.12-6, s.Change[reference.K2O].Value, 1e-9)
	assert.Equal(t, substitute.Change{Missing: []string{"salt-blend"}}, s.Change[reference.Ca], "not known is no zero")
	assert.False(t, s.Cost.Known, "it has no price")
	assert.Same(t, blend, s.Material)
}

// TestSideEffects: langbeinite for ash: no lime, magnesium along, salt by its index, cost by the packs.
func TestSideEffects(t *testing.T) {
	ash := material(t, "wood-ash")
	s := find(t, substitute.For(lib, shelf, ash, grams(100), reference.K2O), "langbeinite")
	assert.InDelta(t, -50, s.Lime.Value, 1e-9, "ash of 50 % CaCO3")
	l := material(t, "langbeinite")
	assert.InDelta(t, s.Mass.Typical*l.Content(reference.Mg).Typical/100-100*ash.Content(reference.Mg).Typical/100, s.Change[reference.Mg].Value, 1e-9)
	assert.Less(t, s.Change[reference.Ca].Value, -20.0, "the calcium of the ash goes missing")
	assert.InDelta(t, s.Mass.Typical*0.6-100*0.1, s.Cost.Value, 1e-9, "in cents")
	var ids []string
	for _, c := range s.Cautions {
		ids = append(ids, c.ID)
	}
	assert.NotContains(t, ids, "ash-caustic", "what the original had is not told again")
	back := find(t, substitute.For(lib, shelf, l, grams(10), reference.K2O), "wood-ash")
	ids = nil
	for _, c := range back.Cautions {
		ids = append(ids, c.ID)
	}
	assert.Contains(t, ids, "ash-caustic")
}

// TestSwapBack is the second road: the substitute of the substitute is the amount again, and twice as much
// takes twice as much.
func TestSwapBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		purpose := rapid.SampledFrom(substitute.Purposes).Draw(t, "purpose")
		m := material(t, rapid.SampledFrom(shelf.MaterialIDs()).Draw(t, "material"))
		mass := grams(rapid.Float64Range(0.1, 1000).Draw(t, "grams"))
		for _, s := range substitute.For(lib, shelf, m, mass, purpose) {
			back := find(t, substitute.For(lib, shelf, s.Material, grams(s.Mass.Typical), purpose), m.ID)
			assert.InEpsilon(t, mass.Typical, back.Mass.Typical, 1e-9)
			assert.LessOrEqual(t, s.Mass.Low, s.Mass.Typical*(1+1e-12))
			assert.GreaterOrEqual(t, s.Mass.High, s.Mass.Typical*(1-1e-12))
			w, own := substitute.Of(lib, s.Material, purpose), substitute.Of(lib, m, purpose)
			assert.InEpsilon(t, mass.Typical*own.Value.Typical, s.Mass.Typical*w.Value.Typical, 1e-9, "it brings as much")
			for n, c := range s.Change {
				assert.Equal(t, c.Known, back.Change[n].Known)
				assert.InDelta(t, -c.Value, back.Change[n].Value, 1e-9*max(1, mass.Typical, s.Mass.Typical))
			}
		}
		twice := substitute.For(lib, shelf, m, mass.Scale(2), purpose)
		for i, s := range substitute.For(lib, shelf, m, mass, purpose) {
			assert.Equal(t, s.Material.ID, twice[i].Material.ID)
			assert.InEpsilon(t, 2*s.Mass.Typical, twice[i].Mass.Typical, 1e-9)
		}
	})
}

// TestNothingTurnsAround: what holds none, what ties up and what is not known stands for nothing.
func TestNothingTurnsAround(t *testing.T) {
	assert.Nil(t, substitute.For(lib, shelf, material(t, "gypsum"), grams(10), reference.N), "gypsum holds no nitrogen")
	assert.Nil(t, substitute.For(lib, shelf, material(t, "sulfur-powder"), grams(10), substitute.Lime), "sulfur lowers pH")
	assert.Nil(t, substitute.For(lib, shelf, material(t, "kelp-meal"), grams(10), substitute.Lime), "not known is no zero")
	for _, s := range substitute.For(lib, shelf, material(t, "blood-meal"), grams(10), reference.N) {
		assert.Greater(t, s.Worth.Value.Typical, 0.0, s.Material.ID)
		assert.NotEqual(t, "rice-hulls", s.Material.ID, "it ties nitrogen up")
	}
	assert.Equal(t, []string{"salt-blend", "plain-blend"}, substitute.Left(lib, shelf, material(t, "wood-ash"), reference.Ca))
	assert.Equal(t, []string{"plain-blend"}, substitute.Left(lib, shelf, material(t, "wood-ash"), reference.K2O))
}

// TestOrder: the cupboard in its own order, then the catalogue by weight.
func TestOrder(t *testing.T) {
	all := substitute.For(lib, shelf, material(t, "kelp-meal"), grams(100), reference.K2O)
	require.Greater(t, len(all), 8)
	assert.Equal(t, []string{"wood-ash", "langbeinite", "salt-blend"}, []string{all[0].Material.ID, all[1].Material.ID, all[2].Material.ID})
	for i := 4; i < len(all); i++ {
		assert.False(t, all[i].InCupboard)
		assert.GreaterOrEqual(t, all[i].Mass.Typical, all[i-1].Mass.Typical)
	}
}
