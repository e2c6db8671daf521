package main

import (
	"context"
	"fmt"
	"slices"

	"trug/builder"
	"trug/calcblocks/kit/diag"
)

type proofVerb struct {
	In     string `help:"Folder of the notes." default:"content" placeholder:"DIR"`
	Strict bool   `help:"A number without a source is a fault."`
	As     string `help:"How what was found is printed: text or json." enum:"text,json" default:"text"`
}

// Help is printed below the options.
func (v *proofVerb) Help() string {
	return `Faults are what stops a build. Doubts stop nothing: old prices, pictures that no note shows or that have no
text, headings out of order, notes that were not revised since their numbers changed, words that promise
safety, written numbers that differ from the computed ones. Remarks are for you to know: links that lead out
of the handbook, which are listed and never followed, and how many figures are from memory.

Examples:
  trug proof
  trug proof --strict       for a build machine: a number without a source ends with 1 too
  trug proof --as json      one list, for an editor`
}

// Run prints faults, doubts and remarks and writes nothing.
func (v *proofVerb) Run(_ context.Context, c Console) error {
	c.progress("reading %s", v.In)
	report, err := builder.Proof(builder.Options{Content: v.In, Today: c.Now(), Strict: v.Strict})
	c.progress("")
	if err != nil {
		return err
	}
	return c.proof(report, v.As)
}

// proof prints what was found, which is what proof is for: to Out.
func (c Console) proof(report builder.Report, as string) error {
	all := slices.Concat(report.Diagnostics, report.Remarks)
	if as == "json" {
		if err := diag.PrintJSON(c.Out, all); err != nil {
			return err
		}
	} else {
		diag.Print(c.Out, all, c.style())
		fmt.Fprintf(c.Out, "%s and %s in %s and %s\n", number(report.Faults, "fault"),
			number(len(report.Diagnostics)-report.Faults, "doubt"), count(report.Notes, "note"), count(report.Recipes, "recipe"))
	}
	if report.Faults > 0 {
		return errFaults
	}
	return nil
}

// number counts what is best not there.
func number(n int, what string) string {
	if n == 0 {
		return "no " + what + "s"
	}
	return count(n, what)
}
