package data

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var tree = Object{
	{"id", Text("spring-tubs")},
	{"for", Object{{"litres", Number(20)}}},
	{"sizes", List{
		Object{{"label", Text("20 L")}, {"amounts", List{
			Object{{"amendment", Text("kelp-meal")}, {"grams", Pair(18.00000001, 36)}},
			Object{{"amendment", Text("kelp-meal")}, {"grams", Null{}}},
		}}},
		Object{{"label", Text("Half barrel 1")}, {"litres", Number(math.Copysign(0, -1))}},
	}},
	{"tags", Texts([]string{"a < b & c", `say "so"`})},
	{"fixed", Flag(true)},
	{"none", List{}},
	{"empty", Object{}},
}

func TestJSON(t *testing.T) {
	assert.Equal(t, `{
 "id": "spring-tubs",
 "for": {
  "litres": 20
 },
 "sizes": [
  {
   "label": "20 L",
   "amounts": [
    {
     "amendment": "kelp-meal",
     "grams": {
      "low": 18,
      "high": 36
     }
    },
    {
     "amendment": "kelp-meal",
     "grams": null
    }
   ]
  },
  {
   "label": "Half barrel 1",
   "litres": 0
  }
 ],
 "tags": [
  "a < b & c",
  "say \"so\""
 ],
 "fixed": true,
 "none": [],
 "empty": {}
}
`, string(JSON(tree)))
}

func TestNumbers(t *testing.T) {
	for x, want := range map[float64]string{
		0: "0", 0.1 + 0.2: "0.3", 59.14705: "59.1471", 1.0 / 3: "0.333333", 100: "100",
		1.23456789e10: "12345700000", 9.87654321e12: "9876540000000", 1e15: "1e+15", 1.5e-7: "1.5e-07", 999999.5: "1000000",
		-2.5: "-2.5", 0.000015: "0.000015",
	} {
		got := string(JSON(Number(x)))
		assert.Equal(t, want+"\n", got)
		assert.True(t, json.Valid([]byte(got)), got)
	}
	assert.Equal(t, "0\n", string(JSON(Number(math.Copysign(0, -1)))), "no negative zero")
}

// A number that is not finite is our bug: such a value is Null.
func TestNotFiniteIsLoud(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		assert.Panics(t, func() { JSON(Number(x)) })
	}
	assert.True(t, math.IsNaN(Six(math.NaN())))
	assert.InEpsilon(t, math.MaxFloat64, Six(math.MaxFloat64), 1e-5)
}

// Rounding is stable, keeps six digits and never moves a number by more than half of the sixth.
func TestSix(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1e12, 1e12).Draw(t, "x")
		six := Six(x)
		require.Equal(t, six, Six(six))
		require.InDelta(t, x, six, math.Abs(x)*5.0001e-6)
		digits := strings.Trim(strings.NewReplacer("-", "", ".", "").Replace(number(x)), "0")
		if math.Abs(six) >= 1e-6 {
			require.LessOrEqual(t, len(digits), 6, number(x))
		}
	})
}

func TestNilIsNull(t *testing.T) {
	assert.Equal(t, "null\n", string(JSON(nil)))
	assert.Equal(t, "null\n", string(JSON(Null{})))
}

func TestWalkPaths(t *testing.T) {
	var paths []string
	Walk(tree, func(path string, _ Value) { paths = append(paths, path) })
	assert.Equal(t, []string{
		"id", "for/litres",
		"sizes/20-l/label", "sizes/20-l/amounts/kelp-meal/amendment", "sizes/20-l/amounts/kelp-meal/grams/low",
		"sizes/20-l/amounts/kelp-meal/grams/high", "sizes/20-l/amounts/kelp-meal-2/amendment", "sizes/20-l/amounts/kelp-meal-2/grams",
		"sizes/half-barrel-1/label", "sizes/half-barrel-1/litres", "tags/1", "tags/2", "fixed",
	}, paths)
}

func TestCSV(t *testing.T) {
	got := string(CSV(Object{
		{"a", Text("=1+1")},
		{"b", Text("-x, y")},
		{"c", Text("@cmd")},
		{"d", Text("+1")},
		{"e", Text("\tx")},
		{"f", Text("plain")},
		{"g", Number(-1.5)},
		{"h", Null{}},
		{"i", Text("two\nlines")},
		{"j", Text(`say "so"`)},
		{"k", Flag(false)},
		{"l", Text("\r=1")},
	}))
	assert.Equal(t, "path,value\na,'=1+1\nb,\"'-x, y\"\nc,'@cmd\nd,'+1\ne,'\tx\nf,plain\ng,-1.5\nh,\ni,\"two\nlines\"\n"+
		"j,\"say \"\"so\"\"\"\nk,false\nl,\"'\r'=1\"\n", got)
	records, err := csv.NewReader(strings.NewReader(got)).ReadAll()
	require.NoError(t, err)
	assert.Len(t, records, 13)
}

func TestSlug(t *testing.T) {
	for text, want := range map[string]string{
		"Kelp meal": "kelp-meal", "  20 L! ": "20-l", "Knochenmehl für Kübel": "knochenmehl-fur-kubel", "Straße": "strasse", "GROẞE": "grosse",
		"Ангар для й": "ангар-для-й", "が ぎ": "が-ぎ", "हिन्दी बाग": "हिन्दी-बाग", "한국어": "한국어", "土": "土", "Œuf à l’ail": "oeuf-a-l-ail", "Ǿre, Łódź": "ore-lodz", "æ ð đ þ ħ ı": "ae-d-d-th-h-i",
		"½ cup": "1-2-cup", "---": "section", "": "section", "a_b.c": "a-b-c", "\u0301a": "a",
	} {
		assert.Equal(t, want, Slug(text), text)
		assert.Equal(t, want, Slug(want), "a slug is its own slug")
	}
}

func TestStamp(t *testing.T) {
	first := Stamp(tree, "sources")
	assert.Regexp(t, `^[a-z2-7]{4}-[a-z2-7]{4}$`, first)
	assert.Equal(t, "wydk-idli", Stamp(Object{{"a", Number(1)}}), "stamps of printed cards must stay what they are")
	assert.Equal(t, first, Stamp(tree, "sources"))
	assert.Equal(t, first, Stamp(tree.With("sources", Text("what is left out does not count")), "sources"))
	assert.NotEqual(t, first, Stamp(tree.With("id", Text("spring-tub")), "sources"))
	assert.NotEqual(t, first, Stamp(tree.With("for", Object{{"litres", Number(20.0001)}}), "sources"))
	assert.Equal(t, first, Stamp(tree.With("for", Object{{"litres", Number(20.0000001)}}), "sources"), "below the sixth digit")
	assert.Equal(t, "spring-tubs", string(tree.Get("id").(Text)), "the tree is left as it was")
}

func TestObject(t *testing.T) {
	o := Object{{"a", Number(1)}}
	p := o.With("b", Number(2)).With("a", Number(3))
	assert.Equal(t, Object{{"a", Number(3)}, {"b", Number(2)}}, p)
	assert.Equal(t, Object{{"a", Number(1)}}, o)
	assert.Nil(t, o.Get("c"))
}
