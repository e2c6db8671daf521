package units

import (
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// quantities declares one of each, for the snippets below.
const quantities = `package snippet

import "trug/calcblocks/kit/units"

func _(v units.Volume, m units.Mass, l units.Length, p units.Money, d units.MassDose, dv units.VolumeDose,
	sv units.SomeVolume, sm units.SomeMass, dose units.SomeDose, density units.SomeDensity, content units.SomeShare) {
	`

// snippets says of each line whether the compiler takes it: those that mix dimensions it must not.
var snippets = []struct {
	code string
	ok   bool
}{
	{`_ = v.Add(v)`, true},
	{`_ = v.Add(m)`, false}, // cups and grams
	{`_ = m.Sub(l)`, false},
	{`_ = v.Cmp(m)`, false},
	{`_ = v.Over(m)`, false},
	{`v = m`, false},
	{`_ = v + m`, false},
	{`_ = units.Weigh(v, density)`, true},
	{`_ = units.Weigh(v, dose)`, false}, // a dose where a density is due
	{`_ = units.Weigh(m, density)`, false},
	{`_ = units.Fill(m, density)`, true},
	{`_ = units.Fill(v, density)`, false},
	{`_ = units.Need(d, v)`, true},
	{`_ = units.Need(dv, v)`, false}, // millilitres a litre where grams are due
	{`_ = units.Need(d, m)`, false},
	{`_ = units.NeedVolume(d, v)`, false},
	{`_ = units.Contain(sm, content)`, true},
	{`_ = units.Contain(sv, content)`, false},
	{`_ = units.Contain(sm, dose)`, false},
	{`_ = units.Cost(sm, p, m)`, true},
	{`_ = units.Cost(sm, m, p)`, false},
	{`_ = sm.Add(sm)`, true},
	{`_ = sm.Add(dose)`, false},
	{`_ = sm.Add(m)`, false}, // a decision and a belief
	{`_ = sm.Add(m.Certain())`, true},
	{`_ = units.Spread(sm, v)`, true},
	{`sm = units.Spread(sm, v)`, false},
}

// The compiler refuses what mixes dimensions.
func TestDimensionsDoNotMix(t *testing.T) {
	files := token.NewFileSet()
	from := importer.ForCompiler(files, "source", nil)
	for _, s := range snippets {
		file, err := parser.ParseFile(files, "snippet.go", quantities+s.code+"\n}\n", 0)
		require.NoError(t, err, s.code)
		var first error
		config := types.Config{Importer: from, Error: func(err error) {
			if first == nil {
				first = err
			}
		}}
		_, _ = config.Check("snippet", files, []*ast.File{file}, nil) // errors went to config.Error
		if s.ok {
			assert.NoError(t, first, s.code)
			continue
		}
		require.Error(t, first, s.code)
		assert.Regexp(t, `cannot use|mismatched types|invalid operation`, first.Error(), s.code)
	}
}
