package calcblocks_test

import (
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const soundCheck = `- id: a
  topic: units
  kind: published
  given:
    amount: {value: 1, unit: L}
  expect:
    volume: {value: 1000, unit: mL}
  tolerance:
    volume: {exact: true}
  source: {title: A table, year: 2001}
  confidence: checked
`

func TestASoundCheckFileIsRead(t *testing.T) {
	checks, problems := readCheckFile("units.yaml", soundCheck)
	require.Empty(t, problems)
	require.Len(t, checks, 1)
	assert.Equal(t, "A table, 2001", checks[0].source)
	assert.Equal(t, quantity{values: []string{"1"}, unit: "L"}, checks[0].given["amount"])
	assert.Equal(t, tolerance{"exact", "true"}, checks[0].tolerance["volume"])
}

// Each flaw is one change to the sound file, and what must be said of it.
func TestAFlawedCheckFileIsRefused(t *testing.T) {
	for _, c := range []struct{ old, replaced, problem string }{
		{"volume: {exact: true}", "other: {exact: true}", `the output "volume" has no tolerance`},
		{"volume: {exact: true}", "volume: {exact: true, absolute: 1}", `the output "volume" has no tolerance`},
		{"volume: {exact: true}", "volume: {about: 3}", `unknown key "about"`},
		{"confidence: checked", "confidense: checked", `unknown key "confidense"`},
		{"confidence: checked", "confidence: sure", `its confidence "sure" is unknown`},
		{"kind: published", "kind: guessed", `its kind "guessed" is unknown`},
		{"kind: published", "kind: wrong-in-print", "and its printed figures do not go together"},
		{"topic: units", "topic: factors", `its topic "factors" is not the name of its file`},
		{"{value: 1, unit: L}", "{value: 1}", `"amount" is no quantity with a unit`},
		{"{value: 1, unit: L}", "{low: 1, unit: L}", `"amount" is no quantity with a unit`},
		{"{value: 1, unit: L}", "{value: 1, low: 1, high: 2, unit: L}", `"amount" is no quantity with a unit`},
		{"title: A table, ", "title: A table, page: 3, ", `unknown key "page"`},
		{"  expect:", "expect:", "units.yaml:6"},
		{"- id: a", "- id: a\n  id: b", `the key "id" stands here twice`},
	} {
		require.Contains(t, soundCheck, c.old)
		_, problems := readCheckFile("units.yaml", strings.Replace(soundCheck, c.old, c.replaced, 1))
		assert.Contains(t, strings.Join(problems, "\n"), c.problem, c.replaced)
	}
	_, problems := readCheckFile("units.yaml", "")
	assert.NotEmpty(t, problems)
}

func TestACheckOfAnotherFolderReplacesItsLike(t *testing.T) {
	merged := merge([]check{{id: "a"}, {id: "b"}}, []check{{id: "b", note: "new"}, {id: "c"}})
	assert.Equal(t, []check{{id: "a"}, {id: "b", note: "new"}, {id: "c"}}, merged)
}

func TestAgree(t *testing.T) {
	litre := ratIn("volume", big.NewRat(1000, 1))
	absolute, relative, none := tolerance{"absolute", "0.5"}, tolerance{"relative", "0.01"}, tolerance{"exact", "true"}
	one := func(value, unit string) quantity { return quantity{values: []string{value}, unit: unit} }
	for _, c := range []struct {
		name string
		got  answer
		want quantity
		tol  tolerance
		ok   bool
	}{
		{"the same", litre, one("1", "L"), none, true},
		{"another unit", litre, one("1000", "mL"), none, true},
		{"a hair off", ratIn("volume", big.NewRat(1000000001, 1000000)), one("1", "L"), none, false},
		{"within an amount of the output's unit", litre, one("1.5", "L"), absolute, true},
		{"beyond it", litre, one("1.51", "L"), absolute, false},
		{"within a share", litre, one("1010", "mL"), relative, true},
		{"beyond it", litre, one("1011", "mL"), relative, false},
		{"a third stays exact", ratIn("volume", big.NewRat(1000, 3)), one("1/3", "L"), none, true},
		{"another dimension", litre, one("1000", "g"), relative, false},
		{"an unknown unit", litre, one("1", "firkin"), relative, false},
		{"a bound, at its end", litre, quantity{isBound: true, atLeast: "0.5", atMost: "1", unit: "L"}, none, true},
		{"outside a bound", litre, quantity{isBound: true, atLeast: "1.1", atMost: "2", unit: "L"}, none, false},
		{"a list", numbers([]float64{0.25, 0.5}), quantity{values: []string{"25", "50"}, isList: true, unit: "% N-P2O5-K2O"}, none, true},
		{"a list with another member", numbers([]float64{0.25, 0.75}), quantity{values: []string{"25", "50"}, isList: true, unit: "% N-P2O5-K2O"}, none, false},
		{"a list that is too short", numbers([]float64{0.25}), quantity{values: []string{"25", "50"}, isList: true, unit: "% N-P2O5-K2O"}, none, false},
		{"a text", ofText("1/4 cup"), one("1/4 cup", "text"), none, true},
		{"another text", ofText("1/3 cup"), one("1/4 cup", "text"), none, false},
		{"a text under a wide tolerance", ofText("1/4 cup"), one("1/4 cup", "text"), absolute, false},
		{"a tolerance that is no number", litre, one("1", "L"), tolerance{"absolute", "few"}, false},
		{"a tolerance below zero", litre, one("1", "L"), tolerance{"absolute", "-1"}, false},
	} {
		err := agree(c.got, c.want, c.tol, 0, false)
		assert.Equal(t, c.ok, err == nil, "%s: %v", c.name, err)
	}
}

func TestAgreeTakesTheStep(t *testing.T) {
	none := tolerance{"exact", "true"}
	assert.NoError(t, agree(number(4), quantity{values: []string{"3", "4"}, isList: true, unit: "1"}, none, 1, false))
	assert.Error(t, agree(number(4), quantity{values: []string{"3", "4"}, isList: true, unit: "1"}, none, 0, false))
	assert.NoError(t, agree(number(4), quantity{isRange: true, low: "3", high: "4", unit: "1"}, none, 0, true))
	assert.Error(t, agree(number(4), quantity{isRange: true, low: "3", high: "4", unit: "1"}, none, 0, false))
}

func TestScaleOf(t *testing.T) {
	for _, c := range []struct {
		unit, dimension string
		factor          *big.Rat
		of              string
	}{
		{"US gal", "volume", big.NewRat(3785411784, 1000000), ""},
		{"label oz", "mass", big.NewRat(28, 1), ""},
		{"% v/v", "", big.NewRat(1, 100), ""},
		{"g P2O5", "mass", big.NewRat(1, 1), "P2O5"},
		{"g (NH4)2SO4", "mass", big.NewRat(1, 1), "(NH4)2SO4"},
		{"short ton at CCE 100", "mass", big.NewRat(90718474, 100), "at CCE 100"},
		{"g N/L", "mass/volume", big.NewRat(1, 1000), "N"},
		{"mg/kg SO4", "", big.NewRat(1, 1000000), "SO4"},
		{"lb/short ton", "", big.NewRat(1, 2000), ""},
		{"mL/L", "", big.NewRat(1, 1000), ""},
		{"t/m3", "mass/volume", big.NewRat(1, 1), ""},
	} {
		s, err := scaleOf(c.unit)
		require.NoError(t, err, c.unit)
		assert.Equal(t, c.dimension, s.dimension, c.unit)
		assert.Zero(t, c.factor.Cmp(s.factor), "%s: %s", c.unit, s.factor)
		assert.Equal(t, c.of, s.of, c.unit)
	}
	_, err := scaleOf("lb/firkin")
	assert.EqualError(t, err, `the unit "firkin" is in no table`)
}

// A figure that is wrong in print is a check that the program differs from it.
func TestAMisprintMustBeDisagreedWith(t *testing.T) {
	expected := map[string]quantity{"bags": {values: []string{"12"}, unit: "bags"}}
	c := check{topic: "depth-and-cover", expect: expected, tolerance: map[string]tolerance{"bags": {"exact", "true"}}}
	for printed, differs := range map[string]bool{"11": true, "12": false} {
		c.printed = map[string]quantity{"bags": {values: []string{printed}, unit: "bags"}}
		disagrees := map[string]bool{}
		compare(t, c, answers{"bags": number(12)}, 0, false, disagrees)
		assert.Equal(t, differs, disagrees["bags"], printed)
	}
}

// A check is dispatched on its topic and the names of its inputs and outputs, whatever its id.
func TestDispatch(t *testing.T) {
	one := map[string]quantity{"amount": {values: []string{"1"}, unit: "L"}}
	volume, mass := map[string]quantity{"volume": {}}, map[string]quantity{"volume": {}, "mass": {}}
	for _, c := range []struct {
		check check
		found bool
	}{
		{check{topic: "units", given: one, expect: volume}, true},
		{check{topic: "units", given: one, expect: mass}, false},
		{check{topic: "units", given: volume, expect: volume}, false},
		{check{topic: "weather", given: one, expect: volume}, false},
	} {
		_, found := solverOf(c.check)
		assert.Equal(t, c.found, found)
	}
	s, found := solverOf(check{topic: "household-rounding", given: one, expect: map[string]quantity{"rounding_error": {}, "caution": {}}})
	assert.True(t, found, "later work is left out of the names")
	assert.Equal(t, "rounding_error", s.expect)
}
