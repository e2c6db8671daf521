package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"trug/builder"
	"trug/builder/history"
	"trug/calcblocks/kit/data"
)

type changesVerb struct {
	In     string `help:"Folder of the notes." default:"content" placeholder:"DIR"`
	Record bool   `help:"Write the numbers down in history.yaml, with today's date."`
	As     string `help:"text or json." enum:"text,json" default:"text"`
}

// Help is printed below the options.
func (v *changesVerb) Help() string {
	return `Examples:
  trug changes            what differs from the numbers written down last, and why
  trug changes --record   write them down; the feed and printed cards rest on it`
}

// Run prints what differs from the history, and writes it down when asked.
func (v *changesVerb) Run(_ context.Context, c Console) error {
	h, err := builder.Read(v.In, c.Now())
	if err != nil {
		return err
	}
	if h.Faults() > 0 {
		return c.diagnose(c.Err, builder.Report{Diagnostics: h.Sorted(), Faults: h.Faults()}, v.As)
	}
	changed := h.Changes()
	if v.As == "json" {
		_, err = c.Out.Write(data.JSON(changesTree(changed)))
	} else {
		c.printChanges(changed, len(h.History) == 0 && !v.Record)
	}
	if err != nil || !v.Record || len(changed) == 0 {
		return err
	}
	name := filepath.Join(v.In, history.File)
	if err := replace(name, h.Recorded(c.Now()).Write()); err != nil {
		return fmt.Errorf("cannot write %q: %w", name, err)
	}
	if v.As != "json" {
		fmt.Fprintf(c.Out, "%s: %s written down\n", name, count(len(changed), "block"))
	}
	return nil
}

// replace writes a file beside the old one and swaps it in, so that there is always a whole one. On an error
// the old one is left, and nothing else.
func replace(name string, text []byte) error {
	fresh := name + ".new"
	err := os.WriteFile(fresh, text, 0o644)
	if err == nil {
		err = os.Rename(fresh, name)
	}
	if err != nil {
		_ = os.Remove(fresh) // what there is of it; the error says more than that this failed too
		return reasonOf(err)
	}
	return nil
}

func (c Console) printChanges(changed []builder.Changed, first bool) {
	if len(changed) == 0 {
		fmt.Fprintln(c.Out, "no number differs from the history")
		return
	}
	if first {
		fmt.Fprintf(c.Out, "no history yet: %s to write down with \"trug changes --record\"\n", count(len(changed), "block"))
		return
	}
	for _, b := range changed {
		fmt.Fprintf(c.Out, "%s (%s), %s\n", b.Title, b.Block, since(b.Since))
		if b.Since.IsZero() {
			continue
		}
		if len(b.Numbers) == 0 {
			fmt.Fprintf(c.Out, "  %s\n", builder.AsItWas)
		}
		for _, d := range b.Numbers {
			fmt.Fprintf(c.Out, "  %s\n", d)
		}
		for _, d := range b.Why {
			fmt.Fprintf(c.Out, "  because %s\n", reason(d))
		}
	}
}

// reason says why in words; of a text that is told by a code alone, that it changed.
func reason(d history.Difference) string {
	if strings.HasSuffix(d.Name, "as written") {
		return strings.TrimSuffix(d.Name, ", as written") + " was written anew"
	}
	if parts := d.Parts(); d.Was != "" && d.Is != "" && parts.Was != parts.Is {
		return parts.String()
	}
	return d.String()
}

func since(day time.Time) string {
	if day.IsZero() {
		return "new"
	}
	return "changed since " + day.Format(time.DateOnly)
}

func changesTree(changed []builder.Changed) data.Object {
	blocks := data.List{}
	for _, b := range changed {
		day := data.Value(data.Null{})
		if !b.Since.IsZero() {
			day = data.Text(b.Since.Format(time.DateOnly))
		}
		blocks = append(blocks, data.Object{
			{Key: "block", Value: data.Text(b.Block)},
			{Key: "title", Value: data.Text(b.Title)},
			{Key: "since", Value: day},
			{Key: "numbers", Value: differences(b.Numbers)},
			{Key: "why", Value: differences(b.Why)},
		})
	}
	return data.Object{{Key: "changed", Value: blocks}}
}

func differences(all []history.Difference) data.List {
	out := data.List{}
	for _, d := range all {
		out = append(out, data.Object{{Key: "name", Value: data.Text(d.Name)}, {Key: "was", Value: textOrNull(d.Was)}, {Key: "is", Value: textOrNull(d.Is)}})
	}
	return out
}

func textOrNull(s string) data.Value {
	if s == "" {
		return data.Null{}
	}
	return data.Text(s)
}
