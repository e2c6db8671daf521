// Package blocktest runs a kind's cases. Only tests import it.
package blocktest

import (
	"encoding/json"
	"strings"
	"testing/fstest"

	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/garden"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

// An Input is one block with the grower's files around it.
type Input struct {
	Files map[string]string // handbook.yaml, cupboard.yaml, pots.yaml, recipe files and other blocks, by name
	ID    string
	Body  string   // the block's YAML
	For   string   // a container that a reader asked for
	With  []string // picks
}

// An Output is what came of a block: its result, and the faults of the block and of the grower's files.
type Output struct {
	block.Result
	Garden *garden.Garden
	Faults []diag.Diagnostic
}

// Open reads the grower's files as they would lie in content/; faults go to list.
func Open(files map[string]string, list *diag.List) *garden.Garden {
	content := fstest.MapFS{}
	for name, text := range files {
		content[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return garden.Open(content, "content", reference.Default(), list.Report)
}

// Printed returns the faults as a person reads them.
func (o Output) Printed() string {
	var b strings.Builder
	diag.Print(&b, o.Faults, diag.Style{})
	return b.String()
}

// Text returns the result as text.
func (o Output) Text() string {
	var b strings.Builder
	if err := view.Text(&b, o.View); err != nil {
		panic(err) // a builder never fails
	}
	return b.String()
}

// WorkingText returns the working as text.
func (o Output) WorkingText() string {
	var b strings.Builder
	if err := view.Text(&b, view.Doc{Parts: []view.Part{view.Working{Steps: o.Working}}}); err != nil {
		panic(err)
	}
	return b.String()
}

// Find returns the value at a path of the result, such as "20-l/cost/low", nil when there is none.
func (o Output) Find(path string) data.Value {
	v, _ := data.Find(o.Data, path)
	return v
}

// Number returns the number at a path of the result; anything else panics, which fails the test.
func (o Output) Number(path string) float64 {
	n, ok := o.Find(path).(data.Number)
	if !ok {
		panic("blocktest: no number at " + path)
	}
	return float64(n)
}

// Decoded returns the result's JSON as a reader of it decodes it.
func (o Output) Decoded() any {
	var v any
	if err := json.Unmarshal(data.JSON(o.Data), &v); err != nil {
		panic(err) // what we print is JSON
	}
	return v
}
