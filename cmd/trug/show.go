package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"trug/builder"
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

type showVerb struct {
	Block string   `arg:"" optional:"" help:"Id of the block, such as spring-tubs, or its place, such as content/tubs.md:12." placeholder:"ID"`
	List  bool     `help:"List every block: kind, id, place, title."`
	In    string   `help:"Folder of the notes." default:"content" placeholder:"DIR"`
	For   string   `help:"A container instead of the block's sizes: \"20 L\", a pot id, \"round 30 cm top 24 cm base 28 cm deep\"." placeholder:"SIZE"`
	With  []string `help:"Picks among the block's choices, by amendment id." placeholder:"ID"`
	As    string   `help:"text, json, csv or working." enum:"text,json,csv,working" default:"text"`
}

// Help is printed below the options.
func (v *showVerb) Help() string {
	return `Examples:
  trug show spring-tubs
  trug show spring-tubs --for "20 L" --as json
  trug show spring-tubs --with kelp-meal,gypsum
  trug show --list
  trug show content/tubs/spring-renewal.md:12     a block without an id, by its place
  trug show --help recipe`
}

// Run prints one computed block, or lists all. Faults in the block or in what it rests on are printed instead.
func (v *showVerb) Run(_ context.Context, c Console) error {
	if err := v.check(); err != nil {
		return err
	}
	h, err := builder.Read(v.In, c.Now())
	if err != nil {
		return err
	}
	if v.List {
		return c.list(h, v.As)
	}
	p, ok := h.Named(v.Block)
	if !ok {
		if h.Faults() > 0 {
			return c.diagnose(c.Err, builder.Report{Diagnostics: h.Sorted(), Faults: h.Faults()}, "text")
		}
		return unknownBlock(v.Block, h.IDs())
	}
	if faults := h.Concerning(p); len(faults) > 0 {
		return c.diagnose(c.Err, builder.Report{Diagnostics: faults, Faults: len(faults)}, "text")
	}
	result := p.Result
	if v.For != "" || len(v.With) > 0 {
		var asked []diag.Diagnostic
		if result, asked = h.Ask(p, v.For, v.With); len(asked) > 0 {
			return usageError{asked[0].Message, strings.Join(asked[0].Hints, "; ")}
		}
	}
	if result.Title == "" {
		result.Title = titleOf(p)
	}
	return c.show(result, v.As)
}

// check refuses options that do not go together.
func (v *showVerb) check() error {
	alone := v.For == "" && len(v.With) == 0 && (v.As == "text" || v.As == "json")
	switch {
	case v.List && (v.Block != "" || !alone):
		return usageError{"the list is of all blocks", "write \"trug show --list\", with \"--as json\" if you like"}
	case !v.List && v.Block == "":
		return usageError{"the id of a block is missing", "write one, such as \"trug show spring-tubs\"; \"trug show --list\" lists them"}
	}
	return nil
}

func unknownBlock(id string, ids []string) error {
	hint := "\"trug show --list\" lists the blocks"
	if near := diag.Closest(id, ids); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	} else if len(ids) == 0 {
		hint = "the handbook has no block with an id; " + hint
	}
	return usageError{fmt.Sprintf("the handbook has no block %q", id), hint}
}

// titleOf returns the title of a block; a block that computes nothing goes by its note.
func titleOf(p *builder.Placed) string {
	if p.Result.Title == "" && p.Note != nil {
		return p.Note.Title()
	}
	return p.Result.Title
}

func (c Console) show(r block.Result, as string) error {
	switch as {
	case "json":
		_, err := c.Out.Write(data.JSON(r.Data))
		return err
	case "csv":
		_, err := c.Out.Write(data.CSV(r.Data))
		return err
	}
	doc := r.View
	switch {
	case as == "working" && len(r.Working) == 0:
		doc = view.Doc{Parts: []view.Part{view.Paragraph{Text: "This block works nothing out."}}}
	case as == "working":
		doc = view.Doc{Parts: []view.Part{view.Working{Steps: r.Working}}}
	case len(doc.Parts) == 0:
		doc = view.Doc{Parts: []view.Part{plainly(r.Data)}}
	}
	return view.Text(c.Out, view.Doc{Parts: append([]view.Part{view.Paragraph{Text: r.Title}}, doc.Parts...)})
}

// plainly shows the data of a block that arranges nothing for people.
func plainly(tree data.Object) view.Figures {
	var f view.Figures
	for _, field := range tree {
		if text := words(field.Value); text != "" {
			f.Rows = append(f.Rows, view.Figure{Label: field.Key, Value: text})
		}
	}
	return f
}

func words(v data.Value) string {
	switch v := v.(type) {
	case data.Text:
		return string(v)
	case data.Flag:
		if v {
			return "yes"
		}
		return "no"
	case data.List:
		var out []string
		for _, item := range v {
			out = append(out, words(item))
		}
		return strings.Join(out, ", ")
	}
	return ""
}

type catalogueVerb struct {
	What   string `arg:"" optional:"" help:"amendments, crops, containers, sources, or the licences of what this program is made of; of a schema handbook, cupboard, pots, recipe-file or a kind."`
	ID     string `arg:"" optional:"" help:"One entry."`
	Schema bool   `help:"Print the JSON Schema of a file or a kind, or of all, for an editor."`
	As     string `help:"text or json." enum:"text,json" default:"text"`
}

// Help is printed below the options.
func (v *catalogueVerb) Help() string {
	return `Examples:
  trug catalogue
  trug catalogue amendments
  trug catalogue crops tomato --as json
  trug catalogue --schema recipe-file     the keys of a recipe file, for an editor
  trug catalogue licences                 whose work is in this program, on what terms`
}

// Run prints figures of the reference with their sources.
func (v *catalogueVerb) Run(_ context.Context, c Console) error {
	switch {
	case v.Schema && v.ID != "":
		return usageError{"a schema is of one file or kind", "leave out " + strconv.Quote(v.ID)}
	case v.Schema:
		return c.schema(v.What)
	case v.What == "licences":
		return c.licences(v.ID, v.As)
	}
	tree, doc, err := reference.Default().Catalogue(v.What, v.ID)
	var unknown *reference.UnknownError
	switch {
	case errors.As(err, &unknown):
		return usageError{unknown.Message, unknown.Hint}
	case err != nil:
		return err
	case v.As == "json":
		_, err := c.Out.Write(data.JSON(tree))
		return err
	}
	return view.Text(c.Out, doc)
}
