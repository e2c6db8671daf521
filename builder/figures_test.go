package builder

import (
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const figureNote = `
-- cupboard.yaml --
leaf-blend:
  name: Leaf blend
  label: {n: 3, p2o5: 1, k2o: 2.5, ca: 1.4, mg: 0.3, s: 0.2}
  cup weighs: 72 g
  packs: [{holds: 2 kg, price: 12.00}]
-- a.md --
# A

It costs [21 cents](figure:tub/20-l/cost), brings [about 1 g](figure:tub/20-l/added_g/n), and you
scoop [1/2 cup](figure:tub/20-l/amounts/leaf-blend/measure/us/low), that is [a little](figure:tub/20-l/amounts/leaf-blend/grams).

` + "```recipe tub\ntitle: Tub\nfor: 20 L\namounts:\n  leaf-blend: 1/2 cup\nsizes: [20 L]\n```\n"

// 1/2 cup x 72 g a cup = 36 g; x 3 % = 1.08 g N; x 12.00 / 2000 g = 0.216, which is 0.22.
func TestFigureLinks(t *testing.T) {
	handbookIn(t, txtar.Parse([]byte(figureNote)))
	report, err := Build(Options{Content: "content", Out: "public", Today: today})
	require.NoError(t, err)
	page, err := os.ReadFile("public/notes/a/index.html")
	require.NoError(t, err, printed(report.Diagnostics))
	for _, want := range []string{
		`<a href="../../recipes/tub/index.html#for-20-l">0.22 USD</a>`,
		`#for-20-l">1.1 g</a>`, `#for-20-l">1/2 cup</a>`, `#for-20-l">36 g</a>`,
	} {
		assert.Contains(t, string(page), want)
	}
	require.Len(t, report.Diagnostics, 1, printed(report.Diagnostics))
	assert.Equal(t, `the text says "21 cents", the block "tub" says "0.22 USD"`, report.Diagnostics[0].Message)
}
