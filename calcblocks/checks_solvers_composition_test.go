package calcblocks_test

import (
	"math/big"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/elements"
	"trug/calcblocks/kit/units"
)

// compositionSolvers answer the checks on tables of food and feed, which lie in the folder of TRUG_CHECKS alone:
// without it nobody asks.
func compositionSolvers() []solver {
	if _, err := os.Stat(filepath.Join(os.Getenv("TRUG_CHECKS"), "open-data.yaml")); err != nil || os.Getenv("TRUG_CHECKS") == "" {
		return nil
	}
	const label = "ca k2o mg n p2o5"
	return []solver{
		{"open-data", "crop file ndb_no", label, foodLabel},
		{"open-data", "file ndb_no", label, foodLabel},
		{"open-data", "ca k mg ndb_no p protein", label, func(q question) answers {
			return labelOf(func(name string) float64 { return q.plain(name) }, "protein", 1)
		}},
		{"open-data", "ca crude_protein dry_matter feed k mg p s", label + " s", func(q question) answers {
			return labelOf(func(name string) float64 { return q.plain(name) }, "crude_protein", q.plain("dry_matter"))
		}},
		{"open-data", "file measure ndb_no", "density", householdDensity},
		{"open-data", "column factor file", "value", factorBy},
		{"open-data", "formula", "ca s", func(q question) answers {
			return answers{"ca": number(elements.Convert(q.text("formula"), "Ca")), "s": number(elements.Convert(q.text("formula"), "S"))}
		}},
	}
}

// labelOf turns a table's shares of protein and elements into those of a label, as the material is.
func labelOf(share func(name string) float64, protein string, dry float64) answers {
	out := answers{
		"n":    number(contained(share(protein), dry) * elements.Convert("crude protein", "N")),
		"p2o5": number(contained(share("p"), dry) * elements.Convert("P", "P2O5")),
		"k2o":  number(contained(share("k"), dry) * elements.Convert("K", "K2O")),
		"ca":   number(contained(share("ca"), dry)), "mg": number(contained(share("mg"), dry)),
	}
	if protein == "crude_protein" {
		out["s"] = number(contained(share("s"), dry))
	}
	return out
}

// foodLabel reads a row of a table of food for 100 g.
func foodLabel(q question) answers {
	rows := table(q.t, filepath.Join(os.Getenv("TRUG_CHECKS"), q.text("file")))
	row := rowWhere(q.t, rows, "ndb_no", q.text("ndb_no"))
	const hundredGrams = 100
	return labelOf(func(name string) float64 {
		column, perGram := name+"_mg", 1000.0
		if name == "protein" {
			column, perGram = "protein_g", 1
		}
		return float(exact(q.t, row[column])) / perGram / hundredGrams
	}, "protein", 1)
}

// householdDensity reads the weight of a household measure.
func householdDensity(q question) answers {
	rows := table(q.t, filepath.Join(os.Getenv("TRUG_CHECKS"), q.text("file")))
	row := rowWhere(q.t, rows, "ndb_no", q.text("ndb_no"), "measure", q.text("measure"))
	w := unitWords[q.text("measure")]
	u, ok := units.Lookup(w.unit, w.set)
	require.True(q.t, ok)
	d := units.Density(as(units.Mass{}, exact(q.t, row["grams"])), as(units.Volume{}, new(big.Rat).Set(u.Factor)))
	return answers{"density": in("mass/volume", d.Typical)}
}

// factorBy works a factor by the atomic weights of a data file, and holds the program's own table beside it:
// they differ by less than one part in ten thousand.
func factorBy(q question) answers {
	rows := table(q.t, filepath.Join(os.Getenv("TRUG_CHECKS"), q.text("file")))
	weights := map[string]float64{}
	symbol, column := slices.Index(rows[0], "symbol"), slices.Index(rows[0], q.text("column"))
	require.True(q.t, symbol >= 0 && column >= 0)
	for _, row := range rows[1:] {
		weights[row[symbol]] = float(exact(q.t, row[column]))
	}
	from, to, ok := strings.Cut(q.text("factor"), " to ")
	require.True(q.t, ok)
	x := elements.ConvertBy(weights, from, to)
	assert.InEpsilon(q.t, x, elements.Convert(from, to), 1e-4)
	return answers{"value": number(x)}
}

// rowWhere returns the one row whose columns hold given words, by column.
func rowWhere(t testing.TB, rows [][]string, wanted ...string) map[string]string {
	t.Helper()
	var found map[string]string
	for _, row := range rows[1:] {
		match := true
		for i := 0; i < len(wanted); i += 2 {
			at := slices.Index(rows[0], wanted[i])
			match = match && at >= 0 && row[at] == wanted[i+1]
		}
		if !match {
			continue
		}
		require.Nil(t, found, "two rows of %v", wanted)
		found = map[string]string{}
		for i, name := range rows[0] {
			found[name] = row[i]
		}
	}
	require.NotNil(t, found, "no row of %v", wanted)
	return found
}
