package data

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func spoons(us, metric string) Object {
	return Object{{"us", Object{{"low", Text(us)}, {"high", Text(us)}}}, {"metric", Object{{"low", Text(metric)}, {"high", Text(metric)}}}}
}

// sized is a recipe's tree in small: for 40 litres, in three sizes.
var sized = func() Object {
	size := func(label string, litres, grams float64) Object {
		return Object{
			{"label", Text(label)},
			{"litres", Pair(litres, litres)},
			{"amounts", List{Object{{"amendment", Text("kelp-meal")}, {"measure", spoons("1/2 cup", "110 mL")}, {"grams", Pair(grams, grams)}}}},
			{"choices", List{Object{{"name", Text("potash")}, {"options", List{
				Object{{"amendment", Text("kelp-meal")}, {"grams", Pair(grams, grams)}, {"cost", Pair(1, 1)}},
				Object{{"amendment", Text("wood-ash")}, {"grams", Pair(2*grams, 2*grams)}, {"cost", Null{}}},
			}}}}},
			{"added_g", Object{{"n", Number(grams)}, {"k2o", Number(3)}}},
			{"need_g", Object{{"n", Number(7)}}},
			{"available_n_g", Object{{"season", Number(grams / 2)}}},
			{"compost", Object{{"available_n_g", Object{{"season", Number(9)}}}, {"cost", Pair(5, 5)}}},
			{"cost", Pair(grams, grams)},
		}
	}
	return Object{
		{"id", Text("tub")},
		{"for", Object{{"litres", Number(40)}}},
		{"sizes", List{size("10 L", 10, 11), size("40 L", 40, 44), size("Half barrel 1", 100, 110)}},
	}
}()

var listed = Object{
	{"bags", List{Object{{"holds_litres", Number(40)}, {"count", Number(2)}}, Object{{"holds_litres", Number(42.4753)}, {"count", Number(1)}}}},
	{"packs", List{Object{{"holds_g", Number(2000)}, {"price", Number(14)}}}},
	{"weeks_n", List{Object{{"week", Number(0)}, {"drawn", Number(0)}}, Object{{"week", Number(1)}, {"drawn", Number(6)}}}},
	{"jobs", List{
		Object{{"job", Text("renew")}, {"crop", Text("tomato")}, {"from", Text("2027-04-12")}},
		Object{{"job", Text("renew")}, {"crop", Text("pepper")}, {"from", Text("2027-04-05")}},
		Object{{"job", Text("plant")}, {"crop", Text("tomato")}, {"from", Text("2027-05-03")}},
		Object{{"job", Text("sow indoors")}, {"crop", Text("basil")}, {"from", Text("2027-03-03")}},
	}},
	{"bands", List{Object{{"nutrient", Text("n")}, {"reached", Number(5)}}, Object{{"nutrient", Text("k2o")}, {"reached", Number(6)}}}},
	{"pots", Object{{"blue-tub", Object{{"cost", Number(1)}}}, {"stair-tub", Object{{"cost", Number(2)}}}}},
	{"old_mix_out_litres", Number(3)},
}

func TestSeek(t *testing.T) {
	for path, want := range map[string]string{
		// whole paths, and those that leave "sizes" out
		"sizes/10-l/cost/low":                "sizes/10-l/cost/low",
		"10-l/cost":                          "sizes/10-l/cost",
		"half-barrel-1/cost":                 "sizes/half-barrel-1/cost",
		"10-l/amounts/1/grams":               "sizes/10-l/amounts/kelp-meal/grams",
		"10 L/Added_G/N":                     "sizes/10-l/added_g/n",
		"10-l/kelp-meal/measure":             "sizes/10-l/amounts/kelp-meal/measure", // nearer than the choice
		"10-l/kelp-meal/measure/low":         "sizes/10-l/amounts/kelp-meal/measure/us/low",
		"10-l/kelp-meal/measure/metric/high": "sizes/10-l/amounts/kelp-meal/measure/metric/high",
		"10-l/kelp-meal/cost":                "sizes/10-l/choices/potash/options/kelp-meal/cost", // the only one
		"10-l/wood-ash/grams":                "sizes/10-l/choices/potash/options/wood-ash/grams",
		"10-l/n/season":                      "sizes/10-l/available_n_g/season",
		"10-l/season":                        "sizes/10-l/available_n_g/season",
		"10-l/compost/season":                "sizes/10-l/compost/available_n_g/season",
		"10-l/need/n":                        "sizes/10-l/need_g/n",
		"10-l/k2o":                           "sizes/10-l/added_g/k2o",
		// without a size: the one that the block is for
		"kelp-meal/measure": "sizes/40-l/amounts/kelp-meal/measure",
		"cost":              "sizes/40-l/cost",
		"n/season":          "sizes/40-l/available_n_g/season",
	} {
		f, m := Seek(sized, path, "us")
		require.Nil(t, m, path)
		assert.Equal(t, want, f.Path, path)
		exact, ok := find(sized, strings.Split(f.Path, "/"))
		assert.True(t, ok, path)
		assert.Equal(t, exact, f.Value, path)
	}
	for path, want := range map[string]string{
		"bags/40-l/count": "bags/1/count", "bags/42-4753-l/count": "bags/2/count", "2-kg/price": "packs/1/price", "2000-g/price": "packs/1/price",
		"weeks_n/week-1/drawn": "weeks_n/2/drawn", "week-0/drawn": "weeks_n/1/drawn",
		"renew/pepper/from": "jobs/2/from", "tomato/plant": "jobs/3", "sow-indoors": "jobs/4", "jobs/3/from": "jobs/3/from",
		"k2o/reached": "bands/2/reached", "blue-tub/cost": "pots/blue-tub/cost", "old_mix_out": "old_mix_out_litres", "mix-out": "old_mix_out_litres",
	} {
		f, m := Seek(listed, path)
		require.Nil(t, m, path)
		assert.Equal(t, want, f.Path, path)
	}
}

func TestSeekBetween(t *testing.T) {
	_, m := Seek(sized, "10-l/n", "us")
	assert.Equal(t, []string{"sizes/10-l/added_g/n", "sizes/10-l/need_g/n"}, m.Between)
	_, m = Seek(sized.With("for", Object{{"litres", Number(60)}}), "cost")
	assert.Equal(t, []string{"sizes/10-l/cost", "sizes/40-l/cost", "sizes/half-barrel-1/cost"}, m.Between, "no size is the recipe's own")
	_, m = Seek(sized, "10-l/kelp-meal/measure/low")
	assert.Len(t, m.Between, 2, "no measures are preferred")
	_, m = Seek(listed, "tomato/from")
	assert.Equal(t, []string{"jobs/1/from", "jobs/3/from"}, m.Between)
	_, m = Seek(listed, "cost")
	assert.Equal(t, []string{"pots/blue-tub/cost", "pots/stair-tub/cost"}, m.Between)
	_, m = Seek(listed, "tub/cost")
	assert.Empty(t, m.Between, "an id is not cut short")
}

func TestSeekMisses(t *testing.T) {
	_, m := Seek(sized, "10-l/kelp-mael/measure", "us")
	assert.Equal(t, "10-l", m.Good)
	assert.Equal(t, "kelp-mael", m.Step)
	assert.Equal(t, []string{"label", "litres", "amounts", "choices", "added_g", "need_g", "available_n_g", "compost", "cost"}, m.Here)
	assert.Contains(t, m.Below, "kelp-meal")
	_, m = Seek(sized, "25-l/cost")
	assert.Equal(t, Miss{Step: "25-l", Here: []string{"id", "for", "10-l", "40-l", "half-barrel-1"}, Below: m.Below}, *m)
	for _, path := range []string{"", "10-l/", "/cost", "10-l//cost"} {
		_, m = Seek(sized, path)
		require.NotNil(t, m, path)
		assert.Empty(t, m.Step, path)
	}
	_, m = Seek(Object{}, "cost")
	assert.Equal(t, Miss{Step: "cost"}, *m)
}

// Every path that Walk prints leads to its own leaf; with names left out by chance it leads to a leaf below
// which those names stand in order, or says between which.
func TestSeekFindsWhatWalkPrints(t *testing.T) {
	var paths []string
	Walk(sized, func(path string, _ Value) { paths = append(paths, path) })
	rapid.Check(t, func(t *rapid.T) {
		path := rapid.SampledFrom(paths).Draw(t, "path")
		f, m := Seek(sized, path, "us")
		require.Nil(t, m)
		require.Equal(t, path, f.Path)
		names := strings.Split(path, "/")
		var kept []string
		for i, name := range names {
			if i == len(names)-1 || rapid.Bool().Draw(t, name) {
				kept = append(kept, name)
			}
		}
		f, m = Seek(sized, strings.Join(kept, "/"))
		if m != nil {
			require.Greater(t, len(m.Between), 1)
			f.Path = m.Between[0]
		}
		rest := "/" + f.Path + "/"
		for _, name := range kept {
			_, after, ok := strings.Cut(rest, "/"+name+"/")
			require.True(t, ok, "%s in %s", name, f.Path)
			rest = "/" + after
		}
	})
}

func BenchmarkSeek(b *testing.B) {
	for b.Loop() {
		if _, m := Seek(sized, "half-barrel-1/wood-ash/grams", "us"); m != nil {
			b.Fatal(m)
		}
	}
}
