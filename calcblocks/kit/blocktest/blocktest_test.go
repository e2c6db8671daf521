package blocktest_test

import (
	"encoding/json"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/blocktest"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/facts"
	"trug/calcblocks/kit/form"
	"trug/calcblocks/kit/sources"
	"trug/calcblocks/kit/view"
)

func decoded(t *testing.T, text string) any {
	t.Helper()
	var v any
	require.NoError(t, json.Unmarshal([]byte(text), &v))
	return v
}

func TestSubset(t *testing.T) {
	got := `{"a": 59.1471, "b": [1, {"c": "x"}], "d": null, "e": true, "zero": 0, "more": 1}`
	for _, c := range []struct{ name, want, wrong string }{
		{"a part", `{"a": 59.1471, "d": null}`, ""},
		{"all of it", got, ""},
		{"within the sixth digit", `{"a": 59.1472}`, ""},
		{"beyond the sixth digit", `{"a": 59.1473}`, "/a: want 59.1473, got 59.1471"},
		{"missing key", `{"f": 1}`, "/f: missing"},
		{"a missing key is not null", `{"f": null}`, "/f: missing"},
		{"zero is not null", `{"zero": null}`, "/zero: want <nil>, got 0"},
		{"null is not zero", `{"d": 0}`, "/d: want 0, got <nil>"},
		{"nothing is near zero", `{"zero": 0.0000001}`, "/zero: want 1e-07, got 0"},
		{"wrong length, too short", `{"b": [1]}`, "/b: want a list of 1, got [1 map[c:x]]"},
		{"wrong length, too long", `{"b": [1, {"c": "x"}, 2]}`, "/b: want a list of 3, got [1 map[c:x]]"},
		{"deep in a list", `{"b": [1, {"c": "y"}]}`, "/b/2/c: want y, got x"},
		{"not an object", `{"a": {"b": 1}}`, "/a: want an object, got 59.1471"},
		{"wrong flag", `{"e": false}`, "/e: want false, got true"},
		{"text for a number", `{"a": "59.1471"}`, "/a: want 59.1471, got 59.1471"},
	} {
		t.Run(c.name, func(t *testing.T) {
			wrong := blocktest.Subset(decoded(t, c.want), decoded(t, got))
			if c.wrong == "" {
				assert.Empty(t, wrong)
				return
			}
			assert.Equal(t, []string{c.wrong}, wrong)
		})
	}
}

func TestNear(t *testing.T) {
	for _, c := range []struct {
		want, got float64
		near      bool
	}{
		{1, 1.00001, true},
		{1, 1.000011, false},
		{-1, -0.99999, true},
		{1, -1, false},
		{123456, 123457, true},
		{123456, 123457.1, false},
		{0.000123456, 0.000123457, true},
		{0.000123456, 0.0001234581, false},
		{0, 0, true},
		{0, 1e-300, false},
	} {
		assert.Equal(t, c.near, blocktest.Near(c.want, c.got), "%v and %v", c.want, c.got)
	}
}

// echo is a kind that says back what stands under "say", with a guard for each combination.
var echo = block.Kind{Name: "echo", Parse: func(n *form.Node) block.Block {
	text, _ := n.Fields("say").Need("say", "write \"say: something\"").Text()
	return echoed(text)
}, Phase: 1}

// whisper tells what stands under "say" as a fact of its own block.
var whisper = block.Kind{Name: "whisper", Parse: func(n *form.Node) block.Block {
	text, _ := n.Fields("say").Need("say", "write \"say: something\"").Text()
	return whispered(text)
}}

type whispered string

func (w whispered) Compute(p *block.Pass) block.Result {
	return block.Result{Facts: []facts.Fact{facts.Use{Block: p.ID, Amendment: string(w)}}}
}

func heard(told []facts.Fact) data.List {
	out := data.List{}
	for _, f := range told {
		use := f.(facts.Use)
		out = append(out, data.Text(use.Block+"/"+use.Amendment))
	}
	return out
}

type echoed string

func (e echoed) Compute(p *block.Pass) block.Result {
	combination := func(with, guard string) data.Object {
		return data.Object{{Key: "with", Value: data.Texts([]string{with})}, {Key: "guards", Value: data.Texts([]string{guard})}}
	}
	return block.Result{
		Data: data.Object{
			{Key: "id", Value: data.Text(p.ID)},
			{Key: "said", Value: data.Text(string(e))},
			{Key: "heard", Value: heard(p.Facts)},
			{Key: "for", Value: data.Text(p.For)},
			{Key: "with", Value: data.Texts(p.With)},
			{Key: "sizes", Value: data.List{data.Object{
				{Key: "label", Value: data.Text("20 L")},
				{Key: "combinations", Value: data.List{combination("a", "ash-cap"), combination("b", "over-limit")}},
			}}},
		},
		View:    view.Doc{Parts: []view.Part{view.Paragraph{Text: string(e)}}},
		Working: []view.WorkingStep{{What: "said", Sum: string(e)}},
	}
}

func TestRun(t *testing.T) { blocktest.Run(t, echo, whisper) }

// TestOthers: recipe files are blocks too, neither a later phase nor the same is heard, and a block without a
// kind is loud.
func TestOthers(t *testing.T) {
	said := whisper
	said.Name = "recipe"
	late := whisper
	late.Name, late.Phase = "late", 2
	beside := whisper
	beside.Name, beside.Phase = "beside", 1
	in := blocktest.Input{Body: "say: x\n", Files: map[string]string{
		"tubs/a.recipe.yaml": "recipe: first\nsay: from a file\n",
		"late.yaml":          "say: too late\n",
		"beside.yaml":        "say: at once\n",
	}}
	out := blocktest.Compute(echo, in, said, late, beside)
	assert.Empty(t, out.Printed())
	assert.Equal(t, data.List{data.Text("first/from a file")}, out.Find("heard"))
	assert.Panics(t, func() {
		blocktest.Compute(echo, blocktest.Input{Body: "say: x\n", Files: map[string]string{"recipe a.yaml": "say: y\n"}})
	})
}

// A case that is wrong in each of its files must be found wrong in each.
func TestCheckFindsWhatIsWrong(t *testing.T) {
	a, err := txtar.ParseFile("testdata/echo.txtar")
	require.NoError(t, err)
	out := blocktest.Compute(echo, blocktest.Parse(a))
	wrong, fresh := blocktest.Check(a, out)
	require.Empty(t, wrong)
	require.Empty(t, fresh)
	for i, f := range a.Files {
		if f.Name == "in.yaml" || f.Name == "handbook.yaml" {
			continue
		}
		broken := &txtar.Archive{Files: append([]txtar.File{}, a.Files...)}
		broken.Files[i].Data = []byte(`{"said": "other"}`)
		wrong, fresh := blocktest.Check(broken, out)
		assert.Len(t, wrong, 1, f.Name)
		if f.Name != "json" {
			assert.Equal(t, string(f.Data), fresh[f.Name], "what is written anew is what was right")
		}
	}
}

func TestCheckNeedsSomething(t *testing.T) {
	a := txtar.Parse([]byte("-- in.yaml --\nsay: x\n"))
	wrong, _ := blocktest.Check(a, blocktest.Compute(echo, blocktest.Parse(a)))
	assert.Equal(t, []string{"the case expects nothing"}, wrong)
}

func TestCheckWantsNoFaults(t *testing.T) {
	a := txtar.Parse([]byte("-- in.yaml --\nsya: x\n-- json --\n{}\n"))
	wrong, _ := blocktest.Check(a, blocktest.Compute(echo, blocktest.Parse(a)))
	require.Len(t, wrong, 1)
	assert.Contains(t, wrong[0], "unexpected faults:\nin.yaml:1:1: ")
}

func TestGuards(t *testing.T) {
	out := blocktest.Compute(echo, blocktest.Input{Body: "say: x"})
	assert.Equal(t, []string{"over-limit"}, out.Guards("20 L", "b"))
	assert.Nil(t, out.Guards("20 L", "c"))
	assert.Nil(t, out.Guards("10 L", "b"))
}

func TestNumberPanicsOnWhatIsNone(t *testing.T) {
	out := blocktest.Compute(echo, blocktest.Input{Body: "say: x"})
	assert.Panics(t, func() { out.Number("said") })
	assert.Panics(t, func() { out.Number("nothing/here") })
}

// TestUnsound: a block that says nothing, and a work that its sources lack.
func TestUnsound(t *testing.T) {
	silent := blocktest.Output{}
	assert.Equal(t, []string{"the block gives neither a result nor a fault"}, silent.Unsound())
	known := []sources.Entry{{Key: "a"}}
	out := blocktest.Output{Result: block.Result{
		Data: data.Object{{Key: "x", Value: data.Number(1)}}, Sources: known,
		Working: []view.WorkingStep{{What: "sum", Sources: []string{"a", "b"}}},
		View:    view.Doc{Parts: []view.Part{view.Cautions{Items: []view.Caution{{ID: "dust", Sources: []string{"c"}}}}}},
	}}
	wrong := out.Unsound()
	require.Len(t, wrong, 2)
	assert.Contains(t, wrong[0], `the working of sum names the source "b"`)
	assert.Contains(t, wrong[1], `the caution dust names the source "c"`)
}
