package recipe_test

import (
	"encoding/json"
	"math/big"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/recipe"
)

// goldenInput reads the golden handbook and the block with an id from its note.
func goldenInput(t testing.TB, id string) blocktest.Input {
	t.Helper()
	in := blocktest.Input{ID: id, Files: map[string]string{}}
	for _, name := range []string{"handbook.yaml", "cupboard.yaml", "pots.yaml"} {
		text, err := os.ReadFile(filepath.Join("testdata/golden/content", name))
		require.NoError(t, err)
		in.Files[name] = string(text)
	}
	note, err := os.ReadFile("testdata/golden/content/golden.md")
	require.NoError(t, err)
	body := regexp.MustCompile("(?s)```recipe " + id + "\n(.*?)```").FindSubmatch(note)
	require.NotNil(t, body, "no block %s", id)
	in.Body = string(body[1])
	return in
}

// TestGolden holds the golden handbook to every key and value that it must give.
func TestGolden(t *testing.T) {
	for _, c := range []struct {
		file, id, size string
		with           []string
	}{
		{"golden.json", "golden", "", nil},
		{"golden-choice.json", "golden-choice", "20 L", nil},
		{"golden-choice.json", "golden-choice", "20 L", []string{"mineral-blend"}},
		{"golden-choice-with-shell-blend.json", "golden-choice", "20 L", []string{"shell-blend"}},
	} {
		in := goldenInput(t, c.id)
		in.For, in.With = c.size, c.with
		out := blocktest.Compute(recipe.Kind, in)
		require.Empty(t, out.Printed())
		text, err := os.ReadFile(filepath.Join("testdata/golden", c.file))
		require.NoError(t, err)
		var want any
		require.NoError(t, json.Unmarshal(text, &want))
		assert.Empty(t, blocktest.Subset(want, out.Decoded()), "%s with %v", c.file, c.with)
	}
}

// TestGoldenByHand is the golden recipe's low end for 20 L, step by step in exact fractions.
func TestGoldenByHand(t *testing.T) {
	out := blocktest.Compute(recipe.Kind, goldenInput(t, "golden"))
	rat := big.NewRat
	mul := func(x *big.Rat, more ...*big.Rat) *big.Rat {
		for _, y := range more {
			x = new(big.Rat).Mul(x, y)
		}
		return x
	}
	at := func(path string, want *big.Rat) {
		t.Helper()
		x, _ := want.Float64()
		assert.InEpsilon(t, x, out.Number("sizes/20-l/"+path), 1e-12, path)
	}

	// A US cup is 8 fluid ounces of 1/128 gallon of 231 cubic inches of 2.54 cm: 236.5882365 mL.
	cup := mul(rat(231, 16), rat(254, 100), rat(254, 100), rat(254, 100))
	assert.Equal(t, "236.5882365", cup.FloatString(7))

	// 1/2 cup for 40 L is 1/4 cup for 20 L, which is a measuring cup itself: 59.147059125 mL.
	ratio := rat(20, 40)
	leaf := mul(cup, rat(1, 2), ratio)
	assert.Equal(t, "59.147059125", leaf.FloatString(9))
	at("amounts/leaf-blend/ml/low", leaf)
	assert.EqualValues(t, `1/4 cup`, out.Find("sizes/20-l/amounts/leaf-blend/measure/us/low"))

	// x 72 g a cup = 18 g; x 3 % = 0.54 g N.
	leafGrams := mul(new(big.Rat).Quo(leaf, cup), rat(72, 1))
	assert.Equal(t, "18", leafGrams.RatString())
	at("amounts/leaf-blend/grams/low", leafGrams)
	leafN := mul(leafGrams, rat(3, 100))
	assert.Equal(t, "0.54", leafN.FloatString(2))

	// The shell blend is weighed: 60 g x 1/2 = 30 g, x 4 % = 1.2 g N. The mineral blend has no N.
	shell := mul(rat(60, 1), ratio)
	at("amounts/shell-blend/grams/low", shell)
	shellN := mul(shell, rat(4, 100))
	n := new(big.Rat).Add(leafN, shellN)
	assert.Equal(t, "1.74", n.FloatString(2))
	at("added_g/n/low", n)
	at("added_mg_per_l/n/low", mul(n, rat(1000, 20)))

	// 30 g of shell blend take 30 / 96 cup = 5/16 cup = 1/4 cup + 1 tbsp: the spoons fit, but count for nothing.
	at("amounts/shell-blend/ml/low", mul(cup, rat(30, 96)))
	assert.EqualValues(t, "1/4 cup + 1 tbsp", out.Find("sizes/20-l/amounts/shell-blend/measure/us/low"))

	// 2 tbsp x 1/2 = 1 tbsp = 1/16 cup, x 320 g = 20 g, x 20 % = 4 g K2O; leaf 18 g x 2.5 % = 0.45 g.
	mineral := rat(320/16, 1)
	k2o := new(big.Rat).Add(mul(mineral, rat(20, 100)), mul(leafGrams, rat(25, 1000)))
	assert.Equal(t, "4.45", k2o.FloatString(2))
	at("added_g/k2o/low", k2o)

	// A label-style analysis of the blend: 1.74 g N in 18 + 20 + 30 = 68 g is 2.55882 %.
	at("blend_percent/n/low", mul(new(big.Rat).Quo(n, rat(68, 1)), rat(100, 1)))

	// 18 g of 12.00 for 2 kg and 20 g of 6.00 for 1 kg: 0.108 + 0.12 = 0.228, rounded once to 0.23. The
	// shell blend has no price: it is named, and adds nothing.
	at("cost/low", rat(23, 100))
	assert.EqualValues(t, "shell-blend", out.Find("sizes/20-l/cost/missing/1"))
}
