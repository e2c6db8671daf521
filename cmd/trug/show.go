package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"trug/builder"
	"trug/calcblocks/kit/block"
	"trug/calcblocks/kit/data"
	"trug/calcblocks/kit/diag"
	"trug/calcblocks/kit/reference"
	"trug/calcblocks/kit/view"
)

type showVerb struct {
	ID   string   `arg:"" help:"Id of the block, such as spring-tubs."`
	In   string   `help:"Folder of the notes." default:"content" placeholder:"DIR"`
	For  string   `help:"A container instead of the block's sizes: \"20 L\", a pot id, \"round 30 cm top 24 cm base 28 cm deep\"." placeholder:"SIZE"`
	With []string `help:"Picks among the block's choices, by amendment id." placeholder:"ID"`
	As   string   `help:"text, json, csv or working." enum:"text,json,csv,working" default:"text"`
}

// Help is printed below the options.
func (v *showVerb) Help() string {
	return `Examples:
  trug show spring-tubs
  trug show spring-tubs --for "20 L" --as json
  trug show spring-tubs --with kelp-meal,gypsum
  trug show --help recipe`
}

// Run prints one computed block. Faults in it or in what it rests on are printed instead.
func (v *showVerb) Run(_ context.Context, c Console) error {
	h, err := builder.Read(v.In, c.Now())
	if err != nil {
		return err
	}
	p, ok := h.Block(v.ID)
	if !ok {
		if h.Faults() > 0 {
			return c.diagnose(c.Err, builder.Report{Diagnostics: h.Sorted(), Faults: h.Faults()}, "text")
		}
		return unknownBlock(v.ID, h.IDs())
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
	return c.show(result, v.As)
}

func unknownBlock(id string, ids []string) error {
	hint := "the handbook's blocks are " + strings.Join(ids, ", ")
	if near := diag.Closest(id, ids); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	} else if len(ids) == 0 {
		hint = "the handbook has no block with an id"
	}
	return usageError{fmt.Sprintf("the handbook has no block %q", id), hint}
}

func (c Console) show(r block.Result, as string) error {
	switch as {
	case "json":
		_, err := c.Out.Write(data.JSON(r.Data))
		return err
	case "csv":
		_, err := c.Out.Write(data.CSV(r.Data))
		return err
	case "working":
		return view.WorkingText(c.Out, r.Working)
	}
	fmt.Fprintf(c.Out, "%s\n\n", r.Title)
	return view.Text(c.Out, r.View)
}

type catalogueVerb struct {
	What string `arg:"" optional:"" help:"amendments, crops, containers or sources."`
	ID   string `arg:"" optional:"" help:"One entry."`
	As   string `help:"text or json." enum:"text,json" default:"text"`
}

// Help is printed below the options.
func (v *catalogueVerb) Help() string {
	return `Examples:
  trug catalogue
  trug catalogue amendments
  trug catalogue crops tomato --as json`
}

// Run prints figures of the reference with their sources.
func (v *catalogueVerb) Run(_ context.Context, c Console) error {
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
