package layouts

import (
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/view"
)

// grounds are places that differ in all that a place may.
var grounds = []Context{
	{Root: "../../", BlockID: "tubs", Heading: 3, InNote: true, Main: "us", How: "../../how/recipe/index.html"},
	{Root: "../../", BlockID: "tubs", Heading: 2, Main: "us", How: "../../how/recipe/index.html"},
	{Root: "../../", BlockID: "tubs", Heading: 2, Main: "us"},
	{Root: "", BlockID: "tubs", Heading: 0, InNote: true, Main: "us", How: "how/recipe/index.html"},
	{Root: "../", BlockID: "tubs", Heading: 5, Main: "metric", How: "../how/recipe/index.html"},
	{Root: "/b%C3%BCcher & more/", BlockID: "tubs", Heading: 1, Main: "us", How: "/how/"},
	{Root: "../", BlockID: "", Heading: 9, InNote: true},
}

// everyPart is a document with each kind of part, and one in a size.
func everyPart() view.Doc {
	var doc view.Doc
	for _, s := range oneOfEach() {
		doc.Parts = append(doc.Parts, s.part)
	}
	sizes := sampleSizes()
	sizes.Own = &view.OwnPot{From: 100, To: 5000, Rows: []view.OwnRow{{Amendment: "kelp", Grams: []view.OwnStep{{From: 100, Text: "2 g"}}}}, Top: &view.OwnTop{Name: "leaf mould", Text: "</script> deep", Depth: 4, Loose: 1.25}}
	sizes.Items[0].Parts = append(sizes.Items[0].Parts, doc.Parts...)
	doc.Parts = append(doc.Parts, sizes)
	return doc
}

// assertAlike compares what was printed once with what is printed for each place.
func assertAlike(t *testing.T, l *Layouts, doc view.Doc, heads ...view.More) {
	t.Helper()
	var under view.Doc
	for _, head := range heads {
		under.Parts = append(under.Parts, head)
	}
	under.Parts = append(under.Parts, doc.Parts...)
	var all []*Printed
	for _, made := range []Context{grounds[0], grounds[1], {}} {
		printed, err := l.Print(doc, made)
		require.NoError(t, err)
		all = append(all, printed)
	}
	for _, at := range grounds {
		want := printSample(t, l, under, at)
		for _, printed := range all {
			html, err := printed.At(at, heads...)
			require.NoError(t, err)
			assert.Equal(t, string(want), string(html), "printed for %v, shown at %v", printed.made, at)
		}
	}
}

// TestPrintedPartsOfItsOwn: they stand below the block where it is in no note, printed once or anew.
func TestPrintedPartsOfItsOwn(t *testing.T) {
	l := ourLayouts(t)
	doc, own := view.Doc{Parts: []view.Part{view.Paragraph{Text: "One."}}}, everyPart().Parts
	printed, err := l.Print(doc, grounds[0], own...)
	require.NoError(t, err)
	for _, at := range grounds {
		want := doc
		if !at.InNote {
			want.Parts = slices.Concat(doc.Parts, own)
		}
		html, err := printed.At(at)
		require.NoError(t, err)
		assert.Equal(t, string(printSample(t, l, want, at)), string(html), "%v", at)
	}
}

func TestPrintedOnceReadsAsPrintedAnew(t *testing.T) {
	assertAlike(t, ourLayouts(t), everyPart())
	assertAlike(t, ourLayouts(t), everyPart(), view.More{Title: "Spring", Text: "On its own page", Href: "../spring/index.html"})
	assertAlike(t, ourLayouts(t), everyPart(), view.More{Text: "No title"})
}

// TestPrintedIsPrintedOnce: of the places above, those that share id, main spoons and a How use the same pieces.
func TestPrintedIsPrintedOnce(t *testing.T) {
	printed, err := ourLayouts(t).Print(everyPart(), grounds[0])
	require.NoError(t, err)
	assert.NotEmpty(t, printed.pieces)
	var fit []bool
	for _, at := range grounds {
		fit = append(fit, printed.fits(at))
	}
	assert.Equal(t, []bool{true, true, false, true, false, false, false}, fit)
}

// written fills every text of a part with one, but for the addresses, which the program makes.
func written(v reflect.Value, text string) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(text)
	case reflect.Struct:
		for i := range v.NumField() {
			if name := v.Type().Field(i).Name; name != "Href" && name != "Anchor" && name != "Kind" {
				written(v.Field(i), text)
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			written(v.Index(i), text)
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			v.SetMapIndex(key, reflect.ValueOf(text))
		}
	case reflect.Interface:
		inner := reflect.New(v.Elem().Type()).Elem()
		inner.Set(v.Elem())
		written(inner, text)
		v.Set(inner)
	}
}

// TestTextIsNoMark: a text that holds what stands for a place is text, whatever comes before it.
func TestTextIsNoMark(t *testing.T) {
	l, at := ourLayouts(t), grounds[1]
	for _, text := range []string{
		rootMark, howMark, anchorMark, levelMark + "1", ` href="` + rootMark, ` href="` + howMark, ` href="#` + anchorMark,
		` id="` + anchorMark, "<h" + levelMark + "1", "</h" + levelMark + "1", "<" + partMark + "0>", bodyMark, stem,
	} {
		doc := everyPart()
		for i := range doc.Parts {
			written(reflect.ValueOf(&doc.Parts[i]).Elem(), text)
		}
		want := printSample(t, l, doc, at)
		require.Contains(t, textOf(parsed(t, string(want))), text)
		printed, err := l.Print(doc, at)
		require.NoError(t, err)
		html, err := printed.At(at)
		require.NoError(t, err)
		assert.Equal(t, string(want), string(html), text)
	}
}

// TestDressIsAskedAtEachPlace: a template of a dress may ask for its place in a way that no mark stands for.
func TestDressIsAskedAtEachPlace(t *testing.T) {
	l := mustWear(t, dress(map[string]string{"parts/figures.html": `{{if gt .Level 2}}deep{{end}}{{if eq .Root "../../"}}far{{end}}<img src="{{.Root}}a.svg">`}))
	assertAlike(t, l, everyPart(), view.More{Title: "Spring"})
	page := mustWear(t, dress(map[string]string{"pages/note.html": `<h1>Mine</h1>`}))
	printed, err := page.Print(everyPart(), grounds[0])
	require.NoError(t, err)
	assert.NotEmpty(t, printed.pieces, "a page's template is none of a part")
}

func TestPrintedOfNothing(t *testing.T) {
	printed, err := ourLayouts(t).Print(view.Doc{}, grounds[0])
	require.NoError(t, err)
	html, err := printed.At(grounds[0], view.More{Title: "Spring"})
	require.NoError(t, err)
	assert.Empty(t, html)
	_, err = ourLayouts(t).Print(view.Doc{Parts: []view.Part{strange{}}}, Context{})
	assert.Error(t, err)
}

// TestManyPrintAtOnce: run with -race.
func TestManyPrintAtOnce(t *testing.T) {
	l, doc := ourLayouts(t), everyPart()
	shared, err := ourLayouts(t).Print(doc, grounds[0])
	require.NoError(t, err)
	want := printSample(t, ourLayouts(t), doc, grounds[1])
	out := make([][]string, 8)
	var all sync.WaitGroup
	for i := range out {
		all.Go(func() {
			mine, _ := l.Print(doc, grounds[1])
			for _, printed := range []*Printed{mine, shared} {
				html, _ := printed.At(grounds[1])
				out[i] = append(out[i], string(html))
			}
			html, _ := l.Parts(doc, grounds[1])
			page, _ := l.Page(Page{Title: "x", Body: BlockPage{Parts: html}})
			out[i] = append(out[i], string(html), string(page[strings.Index(string(page), `<div class="block"`):][:len(html)]))
		})
	}
	all.Wait()
	for _, got := range out {
		for _, html := range got {
			assert.Equal(t, string(want), html)
		}
	}
}
