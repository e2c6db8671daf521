package supply_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/supply"
)

// TestIsFast: the meals with a measured release for week 2, and own blends of 11 % N and more, as rich as those.
func TestIsFast(t *testing.T) {
	g := blocktest.Open(map[string]string{"cupboard.yaml": "poor: {name: Poor, label: {n: 10.9}, cup weighs: 150 g}\n" +
		"rich: {name: Rich, label: {n: 11}, cup weighs: 150 g}\nsalt: {name: Salt, label: {n: 21}, cup weighs: 200 g}\n" +
		"untold: {name: Untold, label: {k2o: 5}, cup weighs: 150 g}\n"}, &diag.List{})
	for id, fast := range map[string]bool{
		"blood-meal": true, "feather-meal": true, "fish-meal": true, "soybean-meal": false, "corn-gluten-meal": false, "gypsum": false,
		"poor": false, "rich": true, "salt": true, "untold": false,
	} {
		m, ok := g.Material(id)
		require.True(t, ok, id)
		assert.Equal(t, fast, supply.IsFast(m), id)
	}
}
