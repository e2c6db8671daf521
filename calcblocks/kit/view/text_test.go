package view

import (
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/sources"
)

var dust = Caution{
	ID: "dust", Word: "Dust", Text: "Fine meals raise dust that irritates eyes and lungs; moisten the mix before you pour them in.",
	Defer: "Follow the label.", Sources: []string{"label-a", "label-b"},
}

var kelp = Amount{
	Amendment: "kelp-meal", Name: "Kelp meal",
	Measures: map[string]string{"us": "1/4 to 1/2 cup", "metric": "1/4 to 1/2 cup"}, Grams: "18 to 36 g",
	Error: "rounded up by 3 %", Reason: "potassium, slowly",
}

var ash = Amount{
	Amendment: "wood-ash", Name: "Wood ash",
	Measures: map[string]string{"us": "1 tbsp + 1/2 tsp", "metric": "1 tbsp"}, Grams: "9 g", Brings: "0.5 g K2O",
}

// everyPart is one document with every type of part, and the text that it prints as.
var everyPart = Doc{[]Part{
	Paragraph{"Renew the tubs before planting. This paragraph is long enough to be broken once, after a whole word."},
	More{"Spring renewal", "The whole recipe", "../recipes/spring-tubs/index.html"},
	Steps{"What to do", []Step{
		{"Take out the old mix.", nil},
		{"Mix the amendments into the rest while it is moist, and wait until the smell of ammonia is gone.", []Caution{dust}},
	}},
	Pots{"The pots", []Pot{
		{Name: "Blue tub", Volume: "about 29 L", Description: "round pot, 38 cm across the top, 34 cm deep"},
		{Name: "20 L", Volume: "20 L", Assumed: true},
	}},
	Sizes{"By size", []Size{
		{Label: "20 L", Litres: "20 L", Parts: []Part{Figures{"What it brings", []Figure{{"Nitrogen", "0.54 g", ""}, {"Cost", "not known", "shell-blend has no price"}}}}},
		{Label: "nursery class 5", Litres: "12.9 to 20.4 L", Notes: []string{"this shape is assumed"}, Parts: []Part{Paragraph{"Half of it."}}},
	}, nil},
	Amounts{"What goes in", []string{"us", "metric"}, []Amount{kelp}, []Choice{{"potash", []Amount{ash, kelp}}}},
	Variants{[]Variant{
		{With: []string{"wood-ash"}, Label: "with wood ash", Default: true, Parts: []Part{Paragraph{"Raises the pH."}}},
		{With: []string{"kelp-meal"}, Label: "with kelp meal", Parts: []Part{Paragraph{"Does not."}}},
	}},
	Figures{"For one pot", []Figure{{"Carbon to nitrogen", "9 to 12", "compared with 25 to 30"}}},
	Table{"Release", []Column{{"amendment", false}, {"week 2", true}, {"week 8", true}}, [][]string{{"Kelp meal", "0.1", "0.35"}, {"Knochenmehl für Kübel", "10", "22.5"}}, []string{"In grams."}},
	Bars{"Need met", "g", []Bar{{"nitrogen", 1, 2, &Band{1.5, 3}, ""}, {"potash", 4, 6, nil, "4 to 6"}}},
	Ticks{"To buy", []Tick{{"kelp-meal", "Kelp meal", "2 × 500 g", "6.50 each"}, {"gypsum", "Gypsum", "", "no pack is known"}}},
	Chart{"Release", "g", "week", []float64{0, 2, 8}, []Line{
		{"released", []Point{{0, 0, 0}, {1, 2, 3}, {2, 4, 6}}}, {"drawn", []Point{{0, 0, 0}, {0.5, 0.5, 0.5}, {5, 5, 5}}},
	}},
	Dots{"Harvest", "g", 95, []Dot{
		{"kelp", []float64{10, 14, 14, 22}, 15, &Band{7, 23}, "4 pots, mean 15"}, {"none", []float64{9}, 9, nil, "1 pot"},
	}},
	Cautions{"Cautions", []Caution{{Text: "Lift with help."}, dust}},
	Section{"The cut", Pot{Description: "round pot, 34 cm deep"}, []Layer{
		{"old", "old mix", 0, 22.5, "30 to 36 cm"}, {"compost", "compost", 22.5, 31, "36 to 38 cm"},
	}, []Mark{{"old mix before", 27}}},
	Working{"Working", []WorkingStep{{"kelp meal, grams", "118.3 mL x 0.70 g/mL = 82.8 g", []string{"own"}}}},
	Listing{"How this was written", "yaml", "amounts:\n  kelp-meal: 1/2 cup\n"},
	Bibliography{"Sources", []sources.Entry{
		{Key: "cfr", Title: "Household measures", Publisher: "US Code of Federal Regulations", Number: "21 CFR 101.9", Year: 2016, URL: "https://example.org/a"},
		{Key: "own", Title: "own measurement: cup of kelp meal", Place: "cupboard.yaml:3"},
	}},
}}

const everyText = `
Renew the tubs before planting. This paragraph is long enough to be broken once,
after a whole word.

Spring renewal
The whole recipe

What to do
 1. Take out the old mix.
 2. Mix the amendments into the rest while it is moist, and wait until the smell
    of ammonia is gone.
    ! Dust: Fine meals raise dust that irritates eyes and lungs; moisten the mix
      before you pour them in. Follow the label. [label-a, label-b]

The pots
  Blue tub  about 29 L  round pot, 38 cm across the top, 34 cm deep
  20 L            20 L  this shape is assumed

By size
20 L
====
What it brings
  Nitrogen  0.54 g
  Cost      not known  shell-blend has no price

nursery class 5 (12.9 to 20.4 L)
================================
this shape is assumed

Half of it.

What goes in
                us                metric              weight
  ------------  ----------------  --------------  ----------
  Kelp meal     1/4 to 1/2 cup    1/4 to 1/2 cup  18 to 36 g
    potassium, slowly; rounded up by 3 %
  potash, one of:
     Wood ash   1 tbsp + 1/2 tsp  1 tbsp                 9 g
       0.5 g K2O
  or Kelp meal  1/4 to 1/2 cup    1/4 to 1/2 cup  18 to 36 g
       potassium, slowly; rounded up by 3 %

with wood ash (unless you pick another)
---------------------------------------
Raises the pH.

with kelp meal
--------------
Does not.

For one pot
  Carbon to nitrogen  9 to 12  compared with 25 to 30

Release
  amendment              week 2  week 8
  ---------------------  ------  ------
  Kelp meal                 0.1    0.35
  Knochenmehl für Kübel      10    22.5
  In grams.

Need met
  nitrogen  |     ==###.....                 1 to 2 g  wanted 1.5 to 3 g
  potash    |                    ==========  4 to 6
  = there   . wanted   # there and wanted

To buy
[ ] 2 × 500 g Kelp meal
    6.50 each
[ ] Gypsum
    no pack is known

Release
  week                                  X released  o drawn
  ----  ------------------------------  ----------  -------
     0  |X                              0 (0)       0
     2  |  o  -----X----                2 (1 to 3)  0.5
     8  |          ---------X----o----  4 (2 to 6)  5
  the axis runs from 0 to 6 g

Harvest
  kelp  |=====o=======o=X===========o==|  4 pots, mean 15
  none  |    X                         |  1 pot
  from 7 to 23 g
  o values   X mean   = its 95 % interval

Cautions
! Lift with help.
! Dust: Fine meals raise dust that irritates eyes and lungs; moisten the mix
  before you pour them in. Follow the label. [label-a, label-b]

The cut
  round pot, 34 cm deep
  layer           cm above the base  across
  --------------  -----------------  -----------
  compost                22.5 to 31  36 to 38 cm
  old mix                 0 to 22.5  30 to 36 cm
  old mix before                 27

Working
kelp meal, grams
    118.3 mL x 0.70 g/mL = 82.8 g [own]

How this was written
    amounts:
      kelp-meal: 1/2 cup

Sources
[cfr] Household measures. US Code of Federal Regulations, 2016. 21 CFR 101.9.
      https://example.org/a
[own] own measurement: cup of kelp meal. cupboard.yaml:3
`

func printed(t *testing.T, d Doc) string {
	t.Helper()
	var b strings.Builder
	require.NoError(t, Text(&b, d))
	return b.String()
}

func TestTextOfEveryPart(t *testing.T) {
	assert.Equal(t, strings.TrimPrefix(everyText, "\n"), printed(t, everyPart))
}

// The document above holds every type that is a Part: a new part needs a text, and a line here.
func TestEveryPartIsPrinted(t *testing.T) {
	have := map[string]bool{}
	for _, part := range everyPart.Parts {
		have[reflect.TypeOf(part).Name()] = true
	}
	file, err := parser.ParseFile(token.NewFileSet(), "view.go", nil, 0)
	require.NoError(t, err)
	count := 0
	for _, decl := range file.Decls {
		if f, ok := decl.(*ast.FuncDecl); ok && f.Name.Name == "part" {
			count++
			name := f.Recv.List[0].Type.(*ast.Ident).Name
			assert.True(t, have[name], "%s has no text in the test", name)
		}
	}
	assert.Len(t, have, count)
}

type strangePart struct{}

func (strangePart) part() {}

func TestUnknownPartIsLoud(t *testing.T) {
	assert.PanicsWithValue(t, "view: no text for a part of type view.strangePart", func() {
		_ = Text(&strings.Builder{}, Doc{[]Part{strangePart{}}})
	})
}

func TestTextKeepsTo80Columns(t *testing.T) {
	long := strings.Repeat("a rather long cell ", 8)
	wide := Doc{[]Part{
		Table{Columns: []Column{{"first", false}, {"second", false}, {"third", true}}, Rows: [][]string{{long, long, "1.25"}}},
		Table{Columns: make([]Column, 12), Rows: [][]string{strings.Split(strings.Repeat("quite wide cells,", 12), ",")[:12]}},
		Bibliography{Entries: []sources.Entry{{Key: "a-rather-long-key-of-a-work", Title: long}}},
		Steps{Items: []Step{{long, []Caution{{Word: "Weight", Text: long}}}}},
		Amounts{Sets: []string{"us"}, Rows: []Amount{{Name: long, Measures: map[string]string{"us": long}, Grams: "3 g", Reason: long}}},
	}}
	for _, doc := range []Doc{wide, everyPart} {
		for _, line := range strings.Split(printed(t, doc), "\n") {
			assert.LessOrEqual(t, width(line), 80, line)
			assert.Equal(t, strings.TrimRight(line, " "), line, "blanks at the end")
		}
	}
}

// One weighed amendment among measured ones does not turn the table round.
func TestWeightLeadsUnderHouseholdRounding(t *testing.T) {
	row := kelp
	row.GramsFirst = true
	text := printed(t, Doc{[]Part{Amounts{Sets: []string{"us"}, Rows: []Amount{row}}}})
	assert.Less(t, strings.Index(text, "18 to 36 g"), strings.Index(text, "cup"))
	text = printed(t, Doc{[]Part{Amounts{Sets: []string{"us"}, Rows: []Amount{row, kelp}}}})
	assert.Greater(t, strings.Index(text, "18 to 36 g"), strings.Index(text, "cup"))
}

func TestWidth(t *testing.T) {
	for s, want := range map[string]int{"abc": 3, "ü": 1, "u\u0308": 1, "土": 2, "½ cup": 5, "🌱": 2, "": 0} {
		assert.Equal(t, want, width(s), s)
	}
}

func TestWorkingText(t *testing.T) {
	var b strings.Builder
	steps := []WorkingStep{{"nitrogen", "18 g x 3 % = 0.54 g", []string{"own"}}, {"cost", "none", nil}}
	require.NoError(t, Text(&b, Doc{[]Part{Working{Steps: steps}}}))
	assert.Equal(t, "nitrogen\n    18 g x 3 % = 0.54 g [own]\ncost\n    none\n", b.String())
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no room") }

func TestTextTellsOfAFailedWrite(t *testing.T) {
	assert.Error(t, Text(full{}, everyPart))
	assert.Error(t, Text(full{}, Doc{[]Part{Working{Steps: []WorkingStep{{What: "a"}}}}}))
}
