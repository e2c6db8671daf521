package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"

	"trug/builder"
	"trug/calcblocks/kit/diag"
)

type watchVerb struct {
	folders
	Port uint16 `help:"Port of this machine to serve on; another when it is taken." default:"8420" placeholder:"PORT"`
}

// Help is printed below the options.
func (v *watchVerb) Help() string {
	return `Examples:
  trug watch               build on every change; the open page follows
  trug watch --port 9000

Only this machine can read the pages. A fault is shown at the top of the last good page. Ctrl-C stops it.
While it runs, a hidden folder beside the site holds what the next change starts from.`
}

// Run builds and serves until the context ends or the reader stops it.
func (v *watchVerb) Run(ctx context.Context, c Console) (err error) {
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // from then on a second Ctrl-C ends the program at once
	watched, err := newWatcher(v.In)
	if err != nil {
		return err
	}
	defer watched.close()
	s := &watchRun{verb: v, Console: c, cache: &builder.Cache{}, site: newServed(v.Out, c.Now().UnixNano())}
	defer func() { err = errors.Join(err, s.cache.Close()) }()
	server, err := listen(v.Port, s.site, stop)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, server.close()) }()
	if server.taken != nil {
		fmt.Fprintf(c.Err, "note: port %d cannot be had: %s\n", v.Port, server.taken)
	}
	fmt.Fprintf(c.Out, "http://%s/ shows %s while you write; Ctrl-C stops it\n", server.address, v.Out)
	for first := true; ; first = false {
		if err := s.build(first); err != nil {
			return err
		}
		if !watched.wait(ctx) {
			return nil
		}
	}
}

// A watchRun is what watch keeps from build to build.
type watchRun struct {
	Console
	verb  *watchVerb
	cache *builder.Cache
	site  *served
	said  string // of the last build: the same is not said twice
}

// build builds once and tells the terminal and the open pages. Only the first build's error ends the run:
// later the folders were all right once and may be so again.
func (s *watchRun) build(first bool) error {
	s.progress("building")
	report, err := builder.Build(builder.Options{Content: s.verb.In, Out: s.verb.Out, Today: s.Now(), Cache: s.cache, Swapping: &s.site.swapping})
	s.progress("")
	switch {
	case err != nil && first:
		return err
	case err != nil:
		report.Diagnostics = []diag.Diagnostic{asDiagnostic(err)}
		report.Faults = 1
	}
	s.site.tell(report)
	s.say(report, first)
	return nil
}

// asDiagnostic makes an error about the folders a fault like any other.
func asDiagnostic(err error) diag.Diagnostic {
	var refusal interface{ Diagnostic() diag.Diagnostic }
	if errors.As(err, &refusal) {
		return refusal.Diagnostic()
	}
	return diag.Errorf(diag.Position{}, "cannot-build", "%s", err)
}

// say prints what a build found and did. A save that changes nothing is not worth a line.
func (s *watchRun) say(report builder.Report, first bool) {
	var found bytes.Buffer
	diag.Print(&found, report.Diagnostics, s.style())
	if report.Faults > 0 {
		fmt.Fprintf(&found, "%s; nothing was published\n", count(report.Faults, "fault"))
	}
	news := found.String() != s.said
	s.said = found.String()
	changed := report.Published.Written + report.Published.Removed
	if !first && !news && changed == 0 {
		return
	}
	now := ""
	if !first {
		now = s.Now().Format(time.TimeOnly) + " "
	}
	if news && s.said != "" {
		fmt.Fprint(s.Err, strings.Replace(now, " ", "\n", 1), s.said)
	}
	switch {
	case report.Faults > 0:
	case first:
		fmt.Fprintf(s.Out, "%s: %s, %s, %s\n", s.verb.Out, count(report.Notes, "note"), count(report.Recipes, "recipe"), count(report.Files, "file"))
	case changed == 0:
		fmt.Fprintf(s.Out, "%sno faults; %s is as it was\n", now, s.verb.Out)
	default:
		fmt.Fprintf(s.Out, "%s%s: %s changed\n", now, s.verb.Out, count(changed, "file"))
	}
}
