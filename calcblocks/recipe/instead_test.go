package recipe

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/view"
)

const insteadRecipe = "title: T\nfor: 40 L\namounts:\n  feather-meal: 20 g\n  potassium-sulfate: 10 g\nsizes: [40 L, 80 L]\n"

func insteadTables(t *testing.T) []view.Table {
	t.Helper()
	out := blocktest.Compute(Kind, blocktest.Input{ID: "t", Body: insteadRecipe, Files: map[string]string{
		"cupboard.yaml": "langbeinite:\n  label: {n: 0, p2o5: 0, k2o: 22, mg: 11, s: 22}\n",
	}})
	require.Empty(t, out.Printed())
	var tables []view.Table
	for _, size := range sizesOf(t, out.View).Items {
		for _, part := range size.Parts {
			if table, ok := part.(view.Table); ok && strings.HasPrefix(table.Caption, "If you lack") {
				tables = append(tables, table)
			}
		}
	}
	require.Len(t, tables, 2)
	return tables
}

// By hand: 10 g of sulfate of potash with 50 % K2O bring 5 g; langbeinite of 22 % K2O brings as much in 22.7 g.
// Both give all of it at once. Langbeinite has 11 % Mg: 2.5 g more, and is of the cupboard, so it comes first.
func TestInsteadByHand(t *testing.T) {
	for _, row := range insteadTables(t)[0].Rows {
		if row[0] == "Sulfate of potash" || strings.Contains(row[0], "otassium sulfate") {
			assert.Contains(t, row[1], "langbeinite")
			assert.Contains(t, row[2], "about 22.7 g")
			assert.Contains(t, row[3], "2.5 g more Mg")
			return
		}
	}
	assert.Fail(t, "nothing instead of sulfate of potash")
}

// Double the pot: the same materials in the same order, of which the page has twice as much.
func TestInsteadDoubles(t *testing.T) {
	tables := insteadTables(t)
	require.Equal(t, len(tables[0].Rows), len(tables[1].Rows))
	for i, row := range tables[0].Rows {
		assert.Equal(t, row[:2], tables[1].Rows[i][:2])
		assert.NotEqual(t, row[2], tables[1].Rows[i][2])
	}
}
