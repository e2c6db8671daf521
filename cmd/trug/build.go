package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"trug/builder"
	"trug/calcblocks/kit/diag"
)

type buildVerb struct {
	folders
	As string `help:"How faults are printed: text or json." enum:"text,json" default:"text"`
}

// Run builds the site; with faults it prints them and leaves the site as it was.
func (v *buildVerb) Run(ctx context.Context, c Console) error {
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // from then on a second Ctrl-C ends the program at once
	c.progress("reading %s", v.In)
	o := builder.Options{Content: v.In, Out: v.Out, Today: c.Now(), Stop: ctx.Done()}
	if c.Memory != nil {
		o.Memory = c.Memory()
	}
	report, err := builder.Build(o)
	c.progress("")
	if err != nil {
		return err
	}
	if err := c.diagnose(c.Err, report, v.As); err != nil {
		return err
	}
	for _, advice := range report.Advice {
		fmt.Fprintf(c.Err, "note: %s\n", advice)
	}
	fmt.Fprintf(c.Out, "%s: %s, %s, %s\n", v.Out, count(report.Notes, "note"), count(report.Recipes, "recipe"), count(report.Files, "file"))
	return nil
}

// exitStopped is the exit code of a run that the reader stopped, as shells count it.
const exitStopped = 130

// diagnose prints faults and doubts to w and returns errFaults when there are faults.
func (c Console) diagnose(w io.Writer, report builder.Report, as string) error {
	if as == "json" {
		if err := diag.PrintJSON(w, report.Diagnostics); err != nil {
			return err
		}
	} else {
		diag.Print(w, report.Diagnostics, c.style())
	}
	if report.Faults == 0 {
		return nil
	}
	if as == "text" {
		fmt.Fprintf(c.Err, "%s; nothing was published\n", count(report.Faults, "fault"))
	}
	return errFaults
}

func (c Console) style() diag.Style {
	if !c.Lively {
		return diag.Style{}
	}
	paint := func(code string) func(string) string {
		return func(s string) string { return "\x1b[" + code + "m" + s + "\x1b[0m" }
	}
	return diag.Style{Fault: paint("1"), Hint: paint("32")}
}

// progress shows what is being done, on a terminal only; an empty text takes it away.
func (c Console) progress(format string, args ...any) {
	if c.Lively {
		fmt.Fprintf(c.Err, "\r\x1b[K"+format, args...)
	}
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
