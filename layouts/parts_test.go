package layouts

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/view"
)

func ourLayouts(t *testing.T) *Layouts {
	t.Helper()
	l, err := New(nil)
	require.NoError(t, err)
	return l
}

type spoken struct {
	part  view.Part
	words []string
}

func oneOfEach() []spoken {
	return []spoken{
		{view.Paragraph{Text: "Water once."}, []string{"Water once."}},
		{view.More{Title: "Spring renewal", Text: "On a page of its own", Href: "../spring/index.html"}, []string{"Spring renewal", "On a page of its own"}},
		{view.Steps{Title: "Steps", Items: []view.Step{{Text: "Dampen", Cautions: sampleCautions()}}}, []string{"Steps", "Dampen", "Dust."}},
		{view.Pots{Title: "Pots", Items: samplePots()}, []string{"Blue tub", "28 L"}},
		{sampleSizes(), []string{"Pick your pot", "Half barrel", "This shape is assumed"}},
		{sampleAmounts(), []string{"What goes in", "Alfalfa meal", "1/4 to 1/3 cup", "36 to 48 g", "slow nitrogen, all season", "rounded up by 3 %", "potash, one of", "or", "Brings 0.5 g N, 1.3 g K2O"}},
		{view.Variants{Items: []view.Variant{{With: []string{"ash"}, Label: "with ash", Parts: []view.Part{view.Paragraph{Text: "Potash at once."}}}}}, []string{"With ash", "Potash at once."}},
		{view.Figures{Title: "Figures", Rows: []view.Figure{{Label: "Cost", Value: "not known", Note: "no price"}}}, []string{"Cost", "not known", "no price"}},
		{view.Table{Caption: "Weeks", Columns: []view.Column{{Head: "Week"}, {Head: "N", Numeric: true}}, Rows: [][]string{{"2", "0.4"}}, Notes: []string{"About."}}, []string{"Weeks", "Week", "0.4", "About."}},
		{sampleBars(), []string{"What it brings", "3.1 to 4.4", "3 to 5", "about 3 times the need", "none set"}},
		{sampleTicks(), []string{"To buy", "2 × 500 g", "Kelp meal", "130 g left over", "Gypsum", "no pack is known"}},
		{sampleChart(), []string{"Release and demand", "week", "released", "drawn", "0.45", "0.3 to 0.5", "0.7", "Solid line: released"}},
		{sampleDots(), []string{"Harvest", "kelp", "410, 380.5, 455", "415", "322 to 508", "too few for one", "95 % interval"}},
		{view.Cautions{Title: "Cautions", Items: sampleCautions()}, []string{"Cautions", "Dust.", "Follow the label.", "[dust-notice-1989]"}},
		{sampleSection(), []string{"Through the pot", "Yard compost, screened", "5 cm", "36 cm wide", "38 cm"}},
		{view.Working{Title: "Working", Steps: []view.WorkingStep{{What: "kelp", Sum: "1 x 2 = 2", Sources: []string{"cup-weights-2020"}}}}, []string{"kelp", "1 x 2 = 2", "[cup-weights-2020]"}},
		{view.Listing{Title: "Block", Language: "yaml", Text: "for: 60 L # two\n"}, []string{"Block", "for: 60 L # two"}},
		{view.Bibliography{Title: "Sources", Entries: sampleEntries()}, []string{"Nutrient need of courtyard crops.", "2019.", "cupboard.yaml:3."}},
	}
}

func TestEveryPartPrints(t *testing.T) {
	var names []string
	for _, s := range oneOfEach() {
		names = append(names, reflect.TypeOf(s.part).Name())
		html := printSample(t, ourLayouts(t), view.Doc{Parts: []view.Part{s.part}}, Context{Root: "../", BlockID: "b", Heading: 2})
		text := textOf(parsed(t, string(html)))
		for _, words := range s.words {
			assert.Contains(t, text, words, "%T", s.part)
		}
	}
	assert.ElementsMatch(t, partTypes(t), names, "a part of view without a sample here")
}

// partTypes reads from the source of view which types are parts.
func partTypes(t *testing.T) []string {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "../calcblocks/kit/view/view.go", nil, 0)
	require.NoError(t, err)
	var names []string
	for _, d := range file.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && f.Name.Name == "part" {
			names = append(names, fmt.Sprint(f.Recv.List[0].Type))
		}
	}
	require.NotEmpty(t, names)
	return names
}

type strange struct{ view.Part }

func TestUnknownPartIsAnError(t *testing.T) {
	_, err := ourLayouts(t).Parts(view.Doc{Parts: []view.Part{strange{}}}, Context{})
	assert.ErrorContains(t, err, "no template for the part layouts.strange")
	_, err = ourLayouts(t).Parts(view.Doc{Parts: []view.Part{view.Sizes{Items: []view.Size{{Parts: []view.Part{strange{}}}}}}}, Context{})
	assert.Error(t, err, "inside a size")
	_, err = ourLayouts(t).Parts(view.Doc{Parts: []view.Part{view.Variants{Items: []view.Variant{{Parts: []view.Part{strange{}}}}}}}, Context{})
	assert.Error(t, err, "inside a variant")
}

func TestUnknownLayerIsAnError(t *testing.T) {
	section := view.Section{Pot: samplePots()[0], Layers: []view.Layer{{Kind: "gravel", ToCM: 3}}}
	_, err := ourLayouts(t).Parts(view.Doc{Parts: []view.Part{section}}, Context{})
	assert.ErrorContains(t, err, `"gravel"`)
}

// poison is text that would do harm as markup, in an attribute, in a script and in an address.
const poison = `</script><script>alert(1)</script><img src=x onerror=alert(1)>" onclick="alert(1)' javascript:alert(1)`

// poisoned fills every text of a part with poison.
func poisoned(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(poison)
	case reflect.Struct:
		for i := range v.NumField() {
			poisoned(v.Field(i))
		}
	case reflect.Slice:
		for i := range v.Len() {
			if v.Index(i).Kind() == reflect.Interface {
				inner := reflect.New(v.Index(i).Elem().Type()).Elem()
				inner.Set(v.Index(i).Elem())
				poisoned(inner)
				v.Index(i).Set(inner)
				continue
			}
			poisoned(v.Index(i))
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			v.SetMapIndex(key, reflect.ValueOf(poison))
		}
	}
}

func TestDataIsNeverMarkup(t *testing.T) {
	for _, s := range oneOfEach() {
		part := reflect.New(reflect.TypeOf(s.part)).Elem()
		part.Set(reflect.ValueOf(s.part))
		poisoned(part)
		poor := part.Interface().(view.Part)
		if section, ok := poor.(view.Section); ok {
			for i := range section.Layers {
				section.Layers[i].Kind = "mix"
			}
		}
		html := printSample(t, ourLayouts(t), view.Doc{Parts: []view.Part{poor}}, Context{Root: "../", BlockID: "b", Heading: 2})
		tree := parsed(t, string(html))
		assert.Contains(t, textOf(tree), "alert(1)", "%T prints the text", s.part)
		assertHarmless(t, tree, fmt.Sprintf("%T", s.part))
	}
}

func TestSizesAreAddressed(t *testing.T) {
	l, doc := ourLayouts(t), view.Doc{Parts: []view.Part{sampleSizes()}}
	alone := parsed(t, string(printSample(t, l, doc, Context{BlockID: "spring-tubs", Heading: 2})))
	assert.Len(t, withAttr(alone, "id", "for-20-l"), 1)
	assert.Len(t, withAttr(alone, "href", "#for-20-l"), 1)
	inNote := parsed(t, string(printSample(t, l, doc, Context{BlockID: "spring-tubs", Heading: 3, InNote: true})))
	assert.Len(t, withAttr(inNote, "id", "spring-tubs-for-20-l"), 1)
	assert.Len(t, withAttr(inNote, "href", "#spring-tubs-for-20-l"), 1)
}

func TestMainSetStandsFirst(t *testing.T) {
	l, doc := ourLayouts(t), view.Doc{Parts: []view.Part{sampleAmounts()}}
	for main, want := range map[string]string{"": "us metric", "us": "us metric", "metric": "metric us", "uk": "us metric"} {
		tree := parsed(t, string(printSample(t, l, doc, Context{BlockID: "b", Main: main})))
		assert.Len(t, withAttr(tree, "data-sets", want), 1, "main set %q", main)
	}
}

func TestOrderOfWeight(t *testing.T) {
	l := ourLayouts(t)
	html := string(printSample(t, l, view.Doc{Parts: []view.Part{view.Cautions{Items: sampleCautions()}}}, Context{}))
	assert.Less(t, strings.Index(html, "More phosphorus"), strings.Index(html, "Dust"), "the block's own caution comes first")
	html = string(printSample(t, l, view.Doc{Parts: sampleSizes().Items[0].Parts[1:]}, Context{}))
	assert.Less(t, strings.Index(html, "With kelp meal"), strings.Index(html, "With wood ash"), "the default comes first")
}

func TestBlockThatShowsNothingLeavesNoFrame(t *testing.T) {
	assert.Empty(t, printSample(t, ourLayouts(t), view.Doc{}, Context{BlockID: "page", Heading: 3, InNote: true}))
}
